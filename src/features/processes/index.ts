export { lookUpPath, processesPath } from './paths.ts'
export * from './words.ts'
