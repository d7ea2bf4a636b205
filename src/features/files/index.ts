export { writeCsv } from './csv.ts'
