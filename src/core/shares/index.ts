export {
  type ApportionedShare,
  type Apportionment,
  type ApportionmentMethod,
  type ApportionmentOptions,
  apportion,
  apportionmentMethods,
} from './apportion.ts'
export * from './contribution.ts'
export * from './picking-list.ts'
export type { NeedFor, SharedProduct, ShareOutQuestion, SharingHousehold } from './question.ts'
export * from './share-out.ts'
