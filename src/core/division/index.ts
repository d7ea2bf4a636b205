export * from './ask.ts'
export * from './question.ts'
