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
export type * from './rules/types.ts';
export { adapterCell, chartElements, combinationCell } from './rules/charts.ts';
export { versionRules, type VersionRule } from './rules/cc.ts';
export { findLicense, licenses, reserved } from './rules/find-license.ts';
export { moveOf, moves, type Move } from './rules/moves.ts';
export { choicesOf, type Choice } from './rules/choices.ts';
export { compareAnswers } from './rules/grade.ts';
export { combinationVerdict } from './rules/combination.ts';
export { judgeAdaptation, judgeBlend, judgeCopy, type Judgement } from './rules/judge.ts';
export type * from './audit/works.ts';
export {
  audit,
  noLegalAdvice,
  type AuditedWork,
  type AuditOptions,
  type AuditReport,
} from './audit/audit.ts';
export {
  auditCodes,
  type AuditCode,
  type AuditFinding,
  type AuditSeverity,
  type PathStep,
} from './audit/findings.ts';
export { plainName } from './audit/credits-owed.ts';
export type { OwedDuty } from './audit/duties.ts';
export { uses, type Use, type UseAnswer, type UseReason } from './audit/use.ts';
export {
  credits,
  type CreditChange,
  type CreditEntry,
  type CreditLicense,
  type Credits,
} from './credits/credits.ts';
