declare module 'spdx-expression-parse' {
  /** @throws Error for anything that is no expression; a bare TypeError when it ends too early */
  export default function parse(expression: string): unknown;
}
