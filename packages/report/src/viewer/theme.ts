/** The colors that are drawn on the canvas, taken from the page's style so that both change together. */
export interface Theme {
  readonly ink: string;
  readonly soft: string;
  readonly stage: string;
  readonly card: string;
  readonly edge: string;
  readonly accent: string;
}

export function themeOf(element: Element): Theme {
  const style = getComputedStyle(element);
  const color = (name: string): string => style.getPropertyValue(`--${name}`).trim();
  return {
    ink: color('ink'),
    soft: color('soft'),
    stage: color('stage'),
    card: color('card'),
    edge: color('edge'),
    accent: color('accent'),
  };
}
