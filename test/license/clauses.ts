/**
 * The words on which rows of the table rest. A key is a license of the SPDX list and a clause, as rows name it; a value
 * the words, in order, with `…` for what lies between. The first word of the clause's own number comes first where the
 * text has one, so that the number is looked up as well.
 */
export const quotes: Readonly<Record<string, string>> = {
  ...each(['MIT'], {
    ', permission notice':
      'The above copyright notice and this permission notice shall be included in all copies or substantial portions',
  }),
  ...each(['ISC'], {
    ', permission notice':
      'provided that the above copyright notice and this permission notice appear in all copies',
  }),
  ...each(['BSD-2-Clause', 'BSD-3-Clause'], {
    ' 1': '1. Redistributions of source code must retain the above copyright notice, this list of conditions',
  }),
  'BSD-3-Clause 3':
    '3. Neither the name of the copyright holder nor the names of its contributors may be used to endorse',
  'Zlib, grant of rights':
    'for any purpose, including commercial applications, and to alter it and redistribute it freely',
  'Zlib 1': '1. The origin of this software must not be misrepresented',
  'Zlib 2': '2. Altered source versions must be plainly marked as such',
  'Zlib 3': '3. This notice may not be removed or altered from any source distribution',
  'MIT-0, text': 'to deal in the Software without restriction … sell copies of the Software',
  '0BSD, text':
    'Permission to use, copy, modify, and/or distribute this software for any purpose with or without fee',
  'Unlicense, text':
    'Anyone is free to copy, modify, publish, use, compile, sell, or distribute this software',

  ...each(['Apache-2.0', 'SHL-0.51'], {
    ' 4': '4. Redistribution. You may reproduce and distribute copies of the Work or Derivative Works',
    ' 4(a)':
      '4. Redistribution. … You must give any other recipients of the Work or Derivative Works a copy of this License',
    ' 4(b)':
      '4. Redistribution. … You must cause any modified files to carry prominent notices stating that You changed',
    ' 4(c)':
      '4. Redistribution. … You must retain … all copyright, patent, trademark, and attribution notices',
    ' 4(d)': '4. Redistribution. … If the Work includes a "NOTICE" text file',
  }),
  'SHL-0.5, Redistribution':
    'Redistribution. You may reproduce … You must give any other recipients of the Work or Derivative Works a copy of this License … You must cause any modified files to carry prominent notices … You must retain … all copyright, patent, trademark, and attribution notices … NOTICE',

  ...each(['CERN-OHL-1.1', 'CERN-OHL-1.2'], {
    ' 3.1': '3.1 … The Licensee shall keep intact all copyright and trademarks notices',
    ' 3.2': '3.2 … copies of the Documentation, in any medium',
  }),
  'CERN-OHL-1.1 3.3(b)':
    '3.3 The Licensee may modify … b. cause the modified Documentation to carry prominent notices stating that the Licensee has modified the Documentation, with the date',
  'CERN-OHL-1.1 3.3(c)':
    '3.3 The Licensee may modify … c. license the modified Documentation under the terms and conditions of this Licence or, where applicable, a later version',
  'CERN-OHL-1.2 3.4(b)':
    '3.4. The Licensee may … b) cause the modified Documentation to carry prominent notices stating that the Licensee has modified the Documentation, with the date',
  'CERN-OHL-1.2 3.4(e)':
    '3.4. The Licensee may … e) license the modified Documentation under the terms and conditions of this Licence or, where applicable, a later version',

  ...each(['GPL-1.0', 'GPL-2.0', 'AGPL-1.0', 'LGPL-2.0', 'LGPL-2.1'], {
    ' 1': '1. You may copy and distribute verbatim copies … conspicuously and appropriately publish on each copy an appropriate copyright notice … keep intact all the notices that refer to … copy of this',
    ' 2, last paragraph':
      '2. You may modify your copy or copies … ere aggregation of another … does not bring the other work under the scope … 3. You may',
  }),
  ...each(['GPL-1.0', 'GPL-2.0', 'AGPL-1.0'], {
    ' 2(a)':
      '2. You may modify your copy or copies … a) … cause the modified files to carry prominent notices stating that you changed the files and the date of any change',
    ' 3': '3. You may copy and distribute the Program … the complete corresponding machine-readable source code',
  }),
  'GPL-1.0 2(b)':
    '2. You may modify … b) cause the whole of any work that you distribute or publish, that in whole or in part contains the Program … to be licensed at no charge to all third parties under the terms of this General Public License',
  ...each(['GPL-2.0', 'AGPL-1.0'], {
    ' 2(b)':
      '2. You may modify … b) You must cause any work that you distribute or publish … to be licensed as a whole at no charge to all third parties under the terms of this License',
  }),
  ...each(['LGPL-2.0', 'LGPL-2.1'], {
    ' 2(b)':
      '2. You may modify … b) You must cause the files modified to carry prominent notices stating that you changed the files',
    ' 2(c)':
      '2. You may modify … c) You must cause the whole of the work to be licensed at no charge to all third parties under the terms of this License',
    ' 3': '3. You may opt to apply the terms of the ordinary GNU General Public License instead of this License',
    ' 4': '4. You may copy and distribute the Library … in object code or executable form … complete corresponding machine-readable source code',
  }),
  'LGPL-3.0 2':
    '2. Conveying Modified Versions. … under the GNU GPL, with none of the additional permissions of this License',
  ...each(['GPL-3.0', 'AGPL-3.0'], {
    ' 1, 6':
      '1. Source Code. The “source code” for a work means the preferred form of the work for making modifications … 6. Conveying Non-Source Forms. … provided that you also convey the machine-readable Corresponding Source',
    ' 4': '4. Conveying Verbatim Copies. … conspicuously and appropriately publish on each copy an appropriate copyright notice; keep intact all notices … give all recipients a copy of this License',
    ' 5(a)':
      '5. Conveying Modified Source Versions. … a) The work must carry prominent notices stating that you modified it, and giving a relevant date',
    ' 5(c)':
      '5. Conveying Modified Source Versions. … c) You must license the entire work, as a whole, under this License',
    ' 5, last paragraph':
      '5. Conveying Modified Source Versions. … Inclusion of a covered work in an aggregate does not cause this License to apply to the other parts of the aggregate. 6. Conveying',
    ' 13':
      '13. … you have permission to link or combine any covered work with a work licensed under version 3 of the GNU … General Public License',
  }),
  'GPL-2.0 9':
    '9. … If the Program specifies a version number of this License which applies to it and "any later version"',

  ...each(['LAL-1.2', 'LAL-1.3'], {
    ' 2.2':
      '2.2 LA LIBERTÉ DE DIFFUSER … joindre aux copies … licence à l’identique … indiquer précisément où se trouve la licence … indiquer au destinataire le nom de … indiquer au destinataire où il',
  }),
  'LAL-1.2 4':
    '4. VOS DROITS D’AUTEUR … vous acceptez seulement d’offrir aux autres les mêmes droits sur votre contribution',
  'LAL-1.2 6': '6. … VERSIONS DE LA LICENCE … vous prévaloir des dispositions d’une des versions ultérieures',
  'LAL-1.3 2.3':
    '2.3 LA LIBERTÉ DE MODIFIER. … indiquer qu’il s’agit d’une œuvre modifiée et, si possible, la nature de la modification … diffuser cette œuvre conséquente avec la même licence ou avec toute licence compatible',
  'LAL-1.3 5':
    'COMPATIBILITÉ. Une licence est compatible avec la LAL si et seulement si … elle reconnaît la LAL également compatible (réciprocité)',
  'TAPR-OHL-1.0 preamble':
    'PREAMBLE … you may distribute products you make to third parties, if you either include the documentation … or make it available without charge for at least three years … License your modifications under the OHL … Attempt to send the modified documentation by email',
  'TAPR-OHL-1.0 1.4':
    '1.4 … all files in that archive are subject to this Agreement unless they are specifically excluded',
  'TAPR-OHL-1.0 4.1':
    '4.1 You may distribute unmodified copies of the Documentation … retain all copyright and other notices',

  ...each(versionsOf(['BY', 'BY-NC', 'BY-ND', 'BY-SA', 'BY-NC-SA', 'BY-NC-ND']), {
    ' 3': '3. License Grant. … to reproduce',
    ' 4(a)':
      '4. Restrictions. … a. You may … only under the terms of this License … You must include a copy of, or the Uniform Resource Identifier … for, this License … You may not offer or impose any terms on the Work',
  }),
  ...each(versionsOf(['BY', 'BY-ND']), { ' 4(b)': credit('b') }),
  ...each(versionsOf(['BY-NC', 'BY-NC-ND']), { ' 4(b)': commercial('b'), ' 4(c)': credit('c') }),
  ...each(versionsOf(['BY-SA', 'BY-NC-SA']), {
    ' 4(b)': '4. Restrictions. … b. You may … only under … terms of … this License',
  }),
  ...each(versionsOf(['BY-SA']), { ' 4(c)': credit('c') }),
  ...each(versionsOf(['BY-NC-SA']), { ' 4(c)': commercial('c'), ' 4(d)': credit('d') }),
};

/** Every clause is the same in these licenses. */
function each(ids: readonly string[], clauses: Readonly<Record<string, string>>): Record<string, string> {
  return Object.fromEntries(
    ids.flatMap(id => Object.entries(clauses).map(([clause, words]) => [`${id}${clause}`, words])),
  );
}

function versionsOf(elements: readonly string[]): string[] {
  return elements.flatMap(name => ['1.0', '2.0', '2.5', '3.0'].map(version => `CC-${name}-${version}`));
}

function credit(letter: string): string {
  return `4. Restrictions. … ${letter}. If you … eep intact all copyright notices for the Work … name … Original Author … if supplied … the title of the Work if supplied`;
}

function commercial(letter: string): string {
  return `4. Restrictions. … ${letter}. … You may not exercise any of the rights granted to You in Section 3 above in any manner that is primarily intended for or directed toward commercial advantage`;
}
