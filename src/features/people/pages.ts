import type { Asking, CoopWays } from '../../web/asking.ts'
import { formModel, passwordField, radiosField, selectField, textField } from '../../web/fields.ts'
import { formatFor } from '../../web/format.ts'
import type { TypedForm } from '../../web/forms.ts'
import { personRoles, roleInWords } from '../../web/roles.ts'
import { helpersPath } from '../helpers/index.ts'
import { mayKeepPeople } from './access.ts'
import {
  householdPath,
  householdsPath,
  invitationsPath,
  leavingPath,
  peoplePath,
  personInvitationPath,
  personPath,
  personResetPath,
} from './paths.ts'
import type { HouseholdName, Person } from './queries.ts'
import { roleHints } from './words.ts'

/** "4 people in 3 households" */
export function peopleSentence(people: readonly Person[], coop: CoopWays): string {
  const here = people.filter(({ leftAt }) => leftAt === null)
  const format = formatFor(coop)
  const households = new Set(here.map(({ householdId }) => householdId)).size
  return `${format.count(here.length, 'person', 'people')} in ${format.count(households, 'household')}`
}

/** @param seen when members last signed in, by id; only stewards are shown it */
export function peoplePage(
  people: readonly Person[],
  households: readonly HouseholdName[],
  seen: ReadonlyMap<string, Date>,
  form: TypedForm,
  asking: Asking,
) {
  const keeps = mayKeepPeople(asking)
  const format = formatFor(asking.coop)
  const when = ({ id, signInName }: Person): string => {
    const at = seen.get(id)
    if (at !== undefined) return format.instant(at)
    return signInName === null ? '' : 'never'
  }
  return {
    title: 'People',
    place: 'coop' as const,
    keeps,
    columns: String(keeps ? 4 : 2),
    sentence: peopleSentence(people, asking.coop),
    helpers: helpersPath(),
    households: households.map(({ id, name }) => ({
      name,
      href: keeps ? householdPath(id) : '',
      rows: people
        .filter((person) => person.householdId === id && person.leftAt === null)
        .map((person) => ({
          name: person.name,
          href: keeps ? personPath(person.id) : '',
          own: person.id === asking.memberId,
          role: roleInWords(person.role),
          account: keeps ? (person.signInName ?? 'none yet') : '',
          seen: keeps ? when(person) : '',
        })),
    })),
    left: keeps
      ? people.flatMap(({ name, leftAt }) => (leftAt === null ? [] : [{ name, at: format.instant(leftAt) }]))
      : [],
    invitations: keeps ? invitationsPath() : '',
    action: householdsPath(),
    form: formModel({ name: householdName(form) }, form),
  }
}

export function householdPage(household: HouseholdName, form: TypedForm) {
  return {
    title: `Household ${household.name}`,
    place: 'coop' as const,
    action: householdPath(household.id),
    back: peoplePath(),
    form: formModel({ name: householdName(form) }, form),
  }
}

const householdName = (form: TypedForm) => textField(form, { name: 'name', label: 'Name of the household' })

/** @param asksPassword whoever asks has a password, which is asked for again where a steward's rights change */
export function personPage(
  person: Person,
  households: readonly HouseholdName[],
  form: TypedForm,
  asksPassword: boolean,
  coop: CoopWays,
  seen: Date | undefined,
) {
  const { id, name, signInName } = person
  const fields = {
    role: radiosField(form, {
      name: 'role',
      label: 'Role',
      options: personRoles.map((value) => ({ value, text: roleInWords(value), hint: roleHints[value] })),
    }),
    householdId: selectField(form, {
      name: 'householdId',
      label: 'Household',
      options: households.map((household) => ({ value: household.id, text: household.name })),
    }),
  }
  const password = passwordAgainField(form, 'Only where somebody becomes a steward, or is one no longer')
  return {
    title: `${name} in the co-op`,
    place: 'coop' as const,
    action: personPath(id),
    asksPassword,
    account:
      signInName === null
        ? 'No account yet: nobody can sign in as this member.'
        : `Signs in as ${signInName}. Last signed in: ${seen === undefined ? 'never' : formatFor(coop).instant(seen)}.`,
    invite: signInName === null ? personInvitationPath(id) : '',
    reset: signInName === null ? '' : personResetPath(id),
    leaving: leavingPath(id),
    back: peoplePath(),
    password,
    form: formModel(asksPassword ? { ...fields, password } : fields, form),
    fields,
  }
}

export function leavingPage({ id, name, role }: Person, form: TypedForm, hasPassword: boolean) {
  const asksPassword = hasPassword && role === 'steward'
  const password = passwordAgainField(form, '')
  return {
    title: `${name} leaves the co-op`,
    place: 'coop' as const,
    name,
    action: leavingPath(id),
    asksPassword,
    password,
    back: personPath(id),
    form: formModel(asksPassword ? { password } : {}, form),
  }
}

/** The own password of whoever gives or takes a steward's rights. */
export function passwordAgainField(form: TypedForm, hint: string) {
  return passwordField(form, {
    name: 'password',
    label: 'Your own password',
    hint,
    autocomplete: 'current-password',
    optional: hint !== '',
  })
}
