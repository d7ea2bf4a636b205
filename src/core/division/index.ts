export * from './ask.ts'
export * from './dates.ts'
export * from './question.ts'
