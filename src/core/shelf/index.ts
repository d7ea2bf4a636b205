export * from './best-by.ts'
export * from './keeping.ts'
export * from './running-low.ts'
