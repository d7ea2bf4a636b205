/** Everything that can be made. */
export const recipesPath = (): string => '/recipes'
/** An empty form; with `from` it begins as that recipe, kept another way. */
export const newRecipePath = (begin?: { from: string; as: string }): string =>
  begin === undefined ? '/recipes/new' : `/recipes/new?${new URLSearchParams(begin).toString()}`
export const recipePath = (id: string): string => `/recipes/${id}`
export const editRecipePath = (id: string): string => `/recipes/${id}/edit`
/** Retires a recipe or takes it back into use. */
export const recipeRetirementPath = (id: string): string => `/recipes/${id}/retirement`
/** How much of everything for so many kilograms, jars or loads, and what to buy for it. */
export const recipeAmountsPath = (id: string): string => `/recipes/${id}/amounts`
/** The sheet for the kitchen's wall. */
export const recipeCardPath = (id: string): string => `/recipes/${id}/card`
export const recipeVersionsPath = (id: string): string => `/recipes/${id}/versions`
export const recipeVersionPath = (id: string, version: number | string): string => `/recipes/${id}/versions/${version}`
/** Recipes that the service brings along, to take into one's own. */
export const startersPath = (): string => '/recipes/starters'
export const starterPath = (key: string): string => `/recipes/starters/${key}`
