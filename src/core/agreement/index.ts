export * from './agree.ts'
export { finishedInTime, lateThatCounts } from './late.ts'
