export * from './found.ts'
export * from './judge.ts'
export * from './schedule.ts'
export {
  ownStagesFrom,
  type SlowKind,
  type SlowMeasure,
  type StageTemplate,
  slowKinds,
  slowMeasures,
  type Target,
  type Way,
} from './stage.ts'
