export function viewerScript(): Promise<string>;
