/** The part of the library dagre that is used. Its own declarations cannot be resolved by Node's rules (no endings). */
interface Dagre {
  readonly Graph: new (options: { readonly multigraph: boolean }) => LayoutGraph;
  readonly layout: (graph: LayoutGraph) => void;
}

interface LayoutGraph {
  setGraph(settings: Readonly<Record<string, string | number>>): unknown;
  setNode(id: string, size: { readonly width: number; readonly height: number }): unknown;
  setEdge(from: string, to: string, label: Readonly<Record<string, string | number>>, name: string): unknown;
  /** Its middle, after the layout. */
  node(id: string): { readonly x: number; readonly y: number };
  /** Where it passes and the middle of its label, after the layout. */
  edge(from: string, to: string, name: string): EdgePlace;
}

interface EdgePlace {
  readonly x: number;
  readonly y: number;
  readonly points: readonly { readonly x: number; readonly y: number }[];
}

/** The layered layout after Sugiyama by the library dagre, loaded only when a drawing is asked for. */
export async function loadLayout(): Promise<Dagre> {
  const loaded: unknown = await import('@dagrejs/dagre');
  return loaded as Dagre;
}
