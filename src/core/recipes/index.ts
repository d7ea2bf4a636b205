export * from './check.ts'
export * from './for-units.ts'
export * from './recipe.ts'
export * from './verdict-types.ts'
