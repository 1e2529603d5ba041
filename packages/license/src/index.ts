export { alternativesOf, mostAlternatives, type Alternative } from './expression/alternatives.ts';
export { parseExpression, type ExpressionFault, type ParsedExpression } from './expression/parse.ts';
export {
  expressionText,
  termText,
  termsOf,
  type Expression,
  type Group,
  type Term,
} from './expression/tree.ts';
