export * from './readings.ts'
