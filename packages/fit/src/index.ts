export type { ClearanceRange, PrintedClass } from './clearance/printed-classes.ts';
export { printedClasses } from './clearance/printed-classes.ts';
export {
  isoClearance,
  limitDeviations,
  type HoleClass,
  type IsoFit,
  type ShaftClass,
} from './clearance/iso286.ts';
export { clearanceHole, screwLength, threadDiameter, type HoleSeries } from './clearance/screw-holes.ts';
export { threadDiameters, threadEngagement, type ThreadDiameters } from './clearance/threads.ts';
export { clearanceAsked, type ClearanceClass } from './clearance/clearance-class.ts';
export {
  judgeClearance,
  type Clearance,
  type ClearanceVerdict,
  type Sized,
} from './clearance/judge-clearance.ts';
export { judgeGap } from './clearance/judge-gap.ts';
export * from './interchange/types.ts';
export { judgeInterchange, together } from './interchange/judge-interchange.ts';
export { limitChange, type LimitChange } from './interchange/limits.ts';
