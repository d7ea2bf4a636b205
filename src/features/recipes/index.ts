export { readDefinition, recipeDocumentTold } from './document.ts'
export { recipesSentence } from './pages.ts'
export { recipesPath } from './paths.ts'
export { listRecipes } from './queries.ts'
