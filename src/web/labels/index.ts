export type { DocumentFacts } from './document.ts'
export * from './label-sheet.ts'
export { CharactersMissing, type Unprintable } from './letters.ts'
export * from './test-sheet.ts'
