export { peopleSentence } from './pages.ts'
export { invitationsPath, peoplePath, resetPath } from './paths.ts'
export { listPeople } from './queries.ts'
