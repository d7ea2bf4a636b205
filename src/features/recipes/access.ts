import { forRoles } from '../../web/roles.ts'

/** Adding, changing, retiring recipes. */
export const mayKeepRecipes = forRoles('steward', 'planner')
