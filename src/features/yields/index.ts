export { likelyWords } from './pages.ts'
