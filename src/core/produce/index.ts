export * from './cohort.ts'
export * from './crop.ts'
export * from './sources.ts'
export * from './vocabulary.ts'
