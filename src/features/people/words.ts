import type { PersonRole } from '../../web/roles.ts'

/** What a role may, in a line: beside each choice of a role. */
export const roleHints: Record<PersonRole, string> = {
  steward: 'everything, and who is in the co-op and what they may',
  planner: 'plans, recipes, produce, equipment and helpers; not who is in the co-op',
  member: 'looks at everything; takes from the shelf, sorts produce, finishes batches',
  helper: 'looks at everything; sorts produce, finishes batches',
}
