/** Everything that can be made. */
export const recipesPath = (): string => '/recipes'
export const newRecipePath = (): string => '/recipes/new'
export const recipePath = (id: string): string => `/recipes/${id}`
export const editRecipePath = (id: string): string => `/recipes/${id}/edit`
/** Retires a recipe or takes it back into use. */
export const recipeRetirementPath = (id: string): string => `/recipes/${id}/retirement`
