export * from './judge.ts'
export * from './keeping.ts'
