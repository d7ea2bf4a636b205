import type { CoopWays } from '../../../web/asking.ts'
import { formModel, radiosField, selectField, textField } from '../../../web/fields.ts'
import { formatFor } from '../../../web/format.ts'
import type { TypedForm } from '../../../web/forms.ts'
import { removalPage } from '../../../web/removal.ts'
import { personRoles, roleInWords } from '../../../web/roles.ts'
import { passwordAgainField } from '../pages.ts'
import {
  invitationPath,
  invitationRemovalPath,
  invitationsPath,
  peoplePath,
  personInvitationPath,
  personPath,
  personResetPath,
} from '../paths.ts'
import type { HouseholdName, Person } from '../queries.ts'
import { roleHints } from '../words.ts'
import { NEW_HOUSEHOLD } from './forms.ts'
import { daysInWords, type Invitation, invitationDays } from './queries.ts'

/** What a form for a link offers: whether mail can be sent, and whether the maker's own password is asked for. */
export type Offers = { mail: boolean; asksPassword: boolean }

export function invitationsPage(
  invitations: readonly Invitation[],
  households: readonly HouseholdName[],
  form: TypedForm,
  offers: Offers,
  coop: CoopWays,
) {
  const fields = {
    forName: textField(form, { name: 'forName', label: 'Whom it is for' }),
    household: selectField(form, {
      name: 'household',
      label: 'Household',
      options: [
        { value: '', text: 'Choose' },
        ...households.map(({ id, name }) => ({ value: id, text: name })),
        { value: NEW_HOUSEHOLD, text: 'A new one' },
      ],
    }),
    newHousehold: textField(form, { name: 'newHousehold', label: 'Name of the new household', optional: true }),
    role: radiosField(form, {
      name: 'role',
      label: 'Role',
      options: personRoles.map((value) => ({ value, text: roleInWords(value), hint: roleHints[value] })),
    }),
    days: daysField(form),
  }
  const sealing = sealingFields(form, offers, 'Only where the invitation is for a steward')
  return {
    title: 'Invitations',
    place: 'coop' as const,
    action: invitationsPath(),
    rows: invitations.map((invitation) => ({
      href: invitationPath(invitation.id),
      forName: invitation.forName,
      to: toWords(invitation),
      made: madeWords(invitation, coop),
      state: stateWords(invitation, coop),
    })),
    back: peoplePath(),
    fields,
    ...sealing.page,
    form: formModel({ ...fields, ...sealing.fields }, form),
  }
}

export function memberInvitationPage(person: Person, form: TypedForm, offers: Offers) {
  const days = daysField(form)
  const sealing = sealingFields(form, { ...offers, asksPassword: offers.asksPassword && person.role === 'steward' }, '')
  return {
    title: `Invite ${person.name}`,
    place: 'coop' as const,
    name: person.name,
    role: roleInWords(person.role),
    household: person.householdName,
    action: personInvitationPath(person.id),
    back: personPath(person.id),
    days,
    ...sealing.page,
    form: formModel({ days, ...sealing.fields }, form),
  }
}

export function resetPage(person: Person, form: TypedForm, offers: Offers) {
  const sealing = sealingFields(form, { ...offers, asksPassword: offers.asksPassword && person.role === 'steward' }, '')
  return {
    title: `A new password for ${person.name}`,
    place: 'coop' as const,
    name: person.name,
    action: personResetPath(person.id),
    back: personPath(person.id),
    ...sealing.page,
    form: formModel(sealing.fields, form),
  }
}

/** @param link the whole secret address where it may be shown now, else null */
export function invitationPage(invitation: Invitation, link: string | null, coop: CoopWays) {
  const { id, kind, forName, state, mailing } = invitation
  return {
    title: kind === 'join' ? `Invitation of ${forName}` : `New password of ${forName}`,
    place: 'coop' as const,
    link: link ?? '',
    open: state === 'open',
    reset: kind === 'reset',
    forName,
    to: toWords(invitation),
    made: madeWords(invitation, coop),
    state: stateWords(invitation, coop),
    mailing: mailing === null ? '' : mailingWords[mailing],
    remove: state === 'open' ? invitationRemovalPath(id) : '',
    back: invitationsPath(),
  }
}

export function invitationRemovalPage({ id, kind, forName }: Invitation) {
  const what = kind === 'join' ? `the invitation of ${forName}` : `the link for a new password of ${forName}`
  return removalPage(what, {
    goes: ['Whoever opens the link finds nothing there from then on.'],
    action: invitationRemovalPath(id),
    back: { href: invitationPath(id), text: 'Keep it' },
  })
}

function daysField(form: TypedForm) {
  return radiosField(form, {
    name: 'days',
    label: 'The link holds for',
    options: invitationDays.map((days) => ({ value: String(days), text: daysInWords(days) })),
  })
}

/** Fields that every link's form may have; those that are not offered are left out of the page and of its problems. */
function sealingFields(form: TypedForm, { mail, asksPassword }: Offers, passwordHint: string) {
  const mailField = textField(form, {
    name: 'mail',
    label: 'Send the link to this mail address, too',
    inputmode: 'email',
    optional: true,
  })
  const password = passwordAgainField(form, passwordHint)
  return {
    page: { mail: mail ? mailField : null, password: asksPassword ? password : null },
    fields: { ...(mail ? { mail: mailField } : {}), ...(asksPassword ? { password } : {}) },
  }
}

/** "planner in household Marsh" */
function toWords({ kind, role, householdName }: Invitation): string {
  if (kind === 'reset') return 'a new password'
  return `${role === null ? 'member' : roleInWords(role)} in household ${householdName ?? ''}`
}

function madeWords({ madeAt, madeBy }: Invitation, coop: CoopWays): string {
  return `${formatFor(coop).instant(madeAt)} by ${madeBy}`
}

function stateWords({ state, expiresAt, endedAt }: Invitation, coop: CoopWays): string {
  const format = formatFor(coop)
  if (state === 'open') return `holds until ${format.instant(expiresAt)}`
  if (state === 'over') return `ran out ${format.instant(expiresAt)}`
  return `${state === 'used' ? 'used' : 'taken back'} ${endedAt === null ? '' : format.instant(endedAt)}`
}

const mailingWords = {
  sending: 'It is being handed to the mail server.',
  sent: 'The mail server took it.',
  failed: 'The mail server did not take it: hand the link over yourself, or make another one.',
}
