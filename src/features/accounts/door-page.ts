import { formModel, passwordField, textField } from '../../web/fields.ts'
import type { TypedForm } from '../../web/forms.ts'
import { roleInWords, roleOf, roles } from '../../web/roles.ts'
import { demonstrationPath, doorPath, setUpPath } from './paths.ts'
import type { DemonstrationMember } from './queries.ts'

export type DoorFacts = {
  members: readonly DemonstrationMember[]
  /** a code for a new co-op is out */
  canSetUp: boolean
  /** the browser came with a session that is over */
  signedOut: boolean
}

/** The page at the door. `next` is where people are led afterwards. */
export function doorPage(form: TypedForm, next: string, { members, canSetUp, signedOut }: DoorFacts) {
  return {
    title: 'Sign in',
    place: null,
    action: doorPath(),
    next,
    signedOut: signedOut ? 'You are signed out on this device. Sign in to go on.' : '',
    setUp: canSetUp ? setUpPath() : '',
    demonstration:
      members.length === 0
        ? null
        : {
            action: demonstrationPath(),
            coop: members[0]?.coop.name ?? '',
            members: [...members]
              .sort((a, b) => roles.indexOf(roleOf(a.role)) - roles.indexOf(roleOf(b.role)))
              .map(({ id, name, role }) => ({ id, name, role: roleInWords(roleOf(role)) })),
          },
    form: formModel(
      {
        name: textField(form, { name: 'name', label: 'Sign-in name or mail address', autocomplete: 'username' }),
        password: passwordField(form, { name: 'password', label: 'Password', autocomplete: 'current-password' }),
      },
      form,
    ),
  }
}
