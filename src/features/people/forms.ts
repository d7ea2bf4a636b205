import { z } from 'zod'
import { choice, neededText } from '../../web/forms.ts'
import { personRoles } from '../../web/roles.ts'

/** One's own password, where it is asked for again; '' where none was typed. As `passwordText` reads it. */
export const passwordAgainText = () =>
  z
    .string('Enter one password only')
    .max(200, 'Use 200 characters or fewer')
    .default('')
    .transform((typed) => typed.normalize('NFC'))

export const householdForm = z.object({ name: neededText('Enter the household’s name', 80) })

/** @param householdIds those that may be chosen */
export const personForm = (householdIds: readonly string[]) =>
  z.object({
    role: choice(personRoles, 'Choose a role'),
    householdId: choice(householdIds, 'Choose the household'),
    password: passwordAgainText(),
  })

export const leavingForm = z.object({ password: passwordAgainText() })
