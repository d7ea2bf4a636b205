import type { Asking } from './asking.ts'

/** What a person or a screen is in a co-op, from the one who may most to the one who may least. */
export const roles = ['steward', 'planner', 'member', 'helper', 'screen'] as const
export type Role = (typeof roles)[number]

/** Roles that a person can have; a screen is a tablet on the kitchen's wall. */
export const personRoles = ['steward', 'planner', 'member', 'helper'] as const satisfies readonly Role[]
export type PersonRole = (typeof personRoles)[number]

/** Says who may: asked by pages about whoever is asking, and read by the table of all routes. */
export type May = { (asking: Asking): boolean; readonly roles: readonly Role[] }

/** Only these roles may. */
export function forRoles(...allowed: readonly [Role, ...Role[]]): May {
  const may = (asking: Asking): boolean => allowed.includes(asking.role)
  return Object.assign(may, { roles: allowed })
}

/** Looking around in the co-op: everybody who is signed in as a person. */
export const mayLook = forRoles(...personRoles)
/** What everybody signed in may, a kitchen screen as well. */
export const mayBeThere = forRoles(...roles)

/** The role in a column; throws for a word that is none. */
export function roleOf(stored: string): PersonRole {
  const found = personRoles.find((one) => one === stored)
  if (found === undefined) throw new Error('a member has a role that there is not')
  return found
}

const names: Record<Role, string> = {
  steward: 'stewards',
  planner: 'planners',
  member: 'members',
  helper: 'helpers',
  screen: 'kitchen screens',
}

/** "steward": one of them. */
export function roleInWords(role: Role): string {
  return role === 'screen' ? 'kitchen screen' : role
}

/** "stewards and planners": for a refusal. */
export function rolesInWords(allowed: readonly Role[]): string {
  const words = roles.filter((role) => allowed.includes(role)).map((role) => names[role])
  return words.length < 2 ? (words[0] ?? 'nobody') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`
}
