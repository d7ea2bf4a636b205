import { z } from 'zod'
import { idText } from '../../ids.ts'
import { neededText, passwordText, read } from '../../web/forms.ts'

export const signInForm = z.object({
  name: neededText('Enter your sign-in name or your mail address', 200),
  password: passwordText('Enter your password'),
})

/** A button rather than something typed: what it sends is right, or was tampered with. */
export const demonstrationForm = z.object({ member: idText, next: z.string().max(2000).default('/') })

/** A sign-in name, read in small letters. It has no @, so that it never looks like somebody's address of mail. */
export const signInName = () =>
  read((typed) => {
    const name = typed.toLowerCase()
    return /^[\p{L}\p{N}][\p{L}\p{M}\p{N}._-]{1,39}$/u.test(name)
      ? { value: name }
      : { problem: 'Enter a name of 2 to 40 letters, digits, dots or dashes, without spaces' }
  }, 60)

/** An address of mail, read in small letters; null for none. Whether it exists, only a message could tell. */
export const optionalMail = () =>
  read<string | null>((typed) => {
    const mail = typed.toLowerCase()
    if (mail === '') return { value: null }
    return /^[^\s@<>"(),:;[\]\\]+@[^\s@<>"(),:;[\]\\]+\.[^\s@<>"(),:;[\]\\]+$/.test(mail)
      ? { value: mail }
      : { problem: 'Enter a mail address like mara@kitchen.example, or leave it empty' }
  }, 200)

/** What makes an account: how its person signs in. Whether the password will do, `passwordProblem` says. */
export const newAccountFields = {
  signInName: signInName(),
  mail: optionalMail(),
  newPassword: passwordText('Choose a password'),
}

export const ownNameForm = z.object({ name: neededText('Enter your name', 80) })

/** A password that proves who it is; not asked for where the account has none. */
const currentPassword = (asks: boolean) =>
  asks
    ? passwordText('Enter the password you have now')
    : z
        .string()
        .default('')
        .transform(() => '')

export const signInNamesForm = (asks: boolean) =>
  z.object({ signInName: signInName(), mail: optionalMail(), currentPassword: currentPassword(asks) })

export const passwordForm = (asks: boolean) =>
  z.object({ currentPassword: currentPassword(asks), newPassword: passwordText('Enter the new password') })
