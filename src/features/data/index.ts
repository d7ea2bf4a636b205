export { mayKeepData } from './access.ts'
export { dataPath, ownDataPath } from './paths.ts'
export { backupSentence } from './words.ts'
