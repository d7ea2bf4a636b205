export { acidityPath, altitudePath, differPath, handbookPath } from './paths.ts'
