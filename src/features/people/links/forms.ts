import { z } from 'zod'
import { neededText, passwordText, read } from '../../../web/forms.ts'
import { newAccountFields } from '../../accounts/index.ts'

/** @param known a member who is there already: the name stays */
export const joinForm = (known: string | null) =>
  z.object({
    name: known === null ? neededText('Enter your name, as the others know you', 80) : read(() => ({ value: known })),
    ...newAccountFields,
  })

export const newPasswordForm = z.object({ newPassword: passwordText('Choose a password') })
