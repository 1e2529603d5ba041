// The floors of the house: who may import whom. See DEVELOPERS.md.
const floors = { mesh: [], manifest: [], solid: ['mesh'], compare: ['mesh', 'solid'] };
floors.license = ['mesh', 'manifest', 'solid'];
floors.fit = ['mesh', 'manifest', 'solid'];
floors.making = ['mesh', 'manifest', 'solid'];
floors.registry = ['mesh', 'manifest', 'solid', 'compare', 'license', 'fit', 'making'];
floors.report = [...floors.registry, 'registry'];
floors.cli = [...floors.report, 'report'];
floors.site = [...floors.report, 'report'];
const all = Object.keys(floors);

module.exports = {
  forbidden: [
    { name: 'no-circles', severity: 'error', from: {}, to: { circular: true } },
    {
      name: 'no-unresolved',
      severity: 'error',
      from: { path: '^packages/' },
      to: { couldNotResolve: true },
    },
    ...all.map(name => {
      const banned = all.filter(other => other !== name && !floors[name].includes(other));
      return {
        name: `floor-${name}`,
        severity: 'error',
        comment: `${name} may import only: ${floors[name].join(', ') || 'nothing of ours'}`,
        from: { path: `^packages/${name}/src` },
        to: { path: `^packages/(${banned.join('|')})/` },
      };
    }),
    ...['mesh', 'manifest', 'solid', 'compare', 'license', 'fit'].map(name => ({
      name: `browser-safe-${name}`,
      severity: 'error',
      comment: `${name} runs in a browser: the outside world is handed in`,
      from: { path: `^packages/${name}/src`, pathNot: '\\.test\\.ts$' },
      to: { dependencyTypes: ['core'] },
    })),
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    exclude: { path: '(dist|\\.test\\.ts$)' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.base.json' },
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['source', 'import', 'node', 'default'],
    },
  },
};
