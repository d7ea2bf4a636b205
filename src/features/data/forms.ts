import { z } from 'zod'
import { neededText } from '../../web/forms.ts'

/** Deleting a co-op: its name, typed; one's own password, '' where none was typed. As `passwordText` reads it. */
export const coopRemovalForm = z.object({
  name: neededText('Type the name of the co-op'),
  currentPassword: z
    .string('Enter one password only')
    .max(200, 'Use 200 characters or fewer')
    .default('')
    .transform((typed) => typed.normalize('NFC')),
})
