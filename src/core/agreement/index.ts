export * from './agree.ts'
export { finishedInTime, lateThatCounts } from './late.ts'
export { type Help, type HelpWorth, withHelp, worthOfHelp } from './worth-of-help.ts'
