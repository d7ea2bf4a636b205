export * from './learnt.ts'
export * from './shrink.ts'
