import { forRoles } from '../../web/roles.ts'

/** Beginning and ending slow jobs, noting what was done and found, changing dates. */
export const mayKeepSlowJobs = forRoles('steward', 'planner', 'member', 'helper')
