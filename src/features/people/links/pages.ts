import { formModel, passwordField, textField } from '../../../web/fields.ts'
import { formatFor } from '../../../web/format.ts'
import type { TypedForm } from '../../../web/forms.ts'
import { roleInWords } from '../../../web/roles.ts'
import { passwordHint } from '../../accounts/index.ts'
import { joinPath, resetPath } from '../paths.ts'
import { roleHints } from '../words.ts'
import type { OpenLink } from './queries.ts'

/** Who invites to what, and how to join. */
export function joinPage(link: OpenLink, secret: string, form: TypedForm) {
  const { coop, member, role, householdName, madeBy, forName } = link
  const fields = {
    name: textField(form, { name: 'name', label: 'Your name, as the others know you', autocomplete: 'name' }),
    signInName: textField(form, {
      name: 'signInName',
      label: 'Sign-in name',
      hint: 'What you will type to sign in: letters, digits, dots or dashes',
      autocomplete: 'username',
    }),
    mail: textField(form, {
      name: 'mail',
      label: 'Mail address',
      hint: 'You can sign in by it, too',
      inputmode: 'email',
      autocomplete: 'email',
      optional: true,
    }),
    newPassword: newPasswordField(form),
  }
  const { name, ...account } = fields
  return {
    title: `Join ${coop.name}`,
    place: null,
    action: joinPath(secret),
    madeBy,
    forName,
    coop: coop.name,
    town: coop.town,
    household: householdName ?? '',
    role: role === null ? '' : roleInWords(role),
    may: role === null ? '' : roleHints[role],
    until: untilWords(link),
    asksName: member === null,
    fields,
    form: formModel(member === null ? { name, ...account } : account, form),
  }
}

/** A new password for a member who has an account. */
export function newPasswordPage(link: OpenLink, secret: string, form: TypedForm) {
  return {
    title: 'Choose a new password',
    place: null,
    action: resetPath(secret),
    name: link.member?.name ?? link.forName,
    signInName: link.signInName ?? '',
    coop: link.coop.name,
    until: untilWords(link),
    form: formModel({ newPassword: newPasswordField(form) }, form),
  }
}

function newPasswordField(form: TypedForm) {
  return passwordField(form, {
    name: 'newPassword',
    label: 'Password',
    hint: passwordHint,
    autocomplete: 'new-password',
  })
}

function untilWords({ coop, expiresAt }: OpenLink): string {
  return formatFor({ ...coop, units: 'metric' }).instant(expiresAt)
}
