import type { Asking, CoopWays } from '../../web/asking.ts'
import { formModel, passwordField, textField } from '../../web/fields.ts'
import { formatFor } from '../../web/format.ts'
import type { TypedForm } from '../../web/forms.ts'
import { roleInWords } from '../../web/roles.ts'
import type { SessionRow } from '../../web/sessions/index.ts'
import { ownUnitsPath } from '../coop/index.ts'
import { ownDataPath } from '../data/paths.ts'
import { passkeysPath } from '../passkeys/paths.ts'
import { tokensPath } from '../tokens/paths.ts'
import { passwordHint } from './password-rules.ts'
import {
  accountPath,
  endDevicePath,
  endOthersPath,
  ownNamePath,
  passwordPath,
  signInNamesPath,
  signOutEverywherePath,
  signOutPath,
} from './paths.ts'
import type { OwnAccount } from './queries.ts'

const place = null

/** Everybody's own page: who they are here, how they sign in, and on which devices they are signed in. */
export function accountPage(
  asking: Asking,
  account: OwnAccount | null,
  sessions: readonly SessionRow[],
  isHttps: boolean,
) {
  const format = formatFor(asking.coop)
  const here = asking.via.kind === 'session' ? asking.via.id : null
  return {
    title: asking.name,
    place,
    sentence: `You are a ${roleInWords(asking.role)} of ${asking.coop.name}.`,
    facts: account === null ? [] : factsOf(account, asking.coop),
    // whoever entered a demonstration shares its member with others, and has no business with their devices
    hasAccount: account !== null,
    paths: {
      name: ownNamePath(),
      units: ownUnitsPath(),
      data: ownDataPath(),
      signInNames: signInNamesPath(),
      password: passwordPath(),
      passkeys: passkeysPath(),
      tokens: tokensPath(),
      signOut: signOutPath(),
      endOthers: endOthersPath(),
      everywhere: signOutEverywherePath(),
    },
    passwordWords: account?.hasPassword === false ? 'Choose a password' : 'Change the password',
    devices:
      account === null
        ? []
        : hereFirst(sessions, here).map(({ id, device, lastUsedAt, createdAt }) => ({
            device,
            isHere: id === here,
            says: `used ${format.instant(lastUsedAt)}, signed in ${format.instant(createdAt)}`,
            end: endDevicePath(id),
          })),
    hasOthers: sessions.some(({ id }) => id !== here),
    plainHttp: !isHttps,
  }
}

function hereFirst(sessions: readonly SessionRow[], here: string | null): SessionRow[] {
  return [...sessions].sort((a, b) => Number(b.id === here) - Number(a.id === here))
}

function factsOf(account: OwnAccount, coop: CoopWays): { name: string; says: string }[] {
  const format = formatFor(coop)
  const { signInName, mail, hasPassword, passwordChangedAt } = account
  const chosen = passwordChangedAt === null ? 'chosen' : `chosen ${format.instant(passwordChangedAt)}`
  return [
    { name: 'Sign-in name', says: signInName },
    { name: 'Mail address', says: mail ?? 'none' },
    { name: 'Password', says: hasPassword ? chosen : 'none' },
  ]
}

/** The form for the name that others read. */
export function ownNamePage(form: TypedForm) {
  return {
    title: 'Your name',
    place,
    action: ownNamePath(),
    back: accountPath(),
    form: formModel(
      {
        name: textField(form, {
          name: 'name',
          label: 'Name',
          hint: 'What was noted under the old one stays as it is',
          autocomplete: 'name',
        }),
      },
      form,
    ),
  }
}

/** The form for sign-in name and mail address; `asks`: whether the account has a password to prove it by. */
export function signInNamesPage(form: TypedForm, asks: boolean) {
  return {
    title: 'Sign-in name and mail',
    place,
    action: signInNamesPath(),
    back: accountPath(),
    asks,
    form: formModel(
      {
        signInName: textField(form, { name: 'signInName', label: 'Sign-in name', autocomplete: 'username' }),
        mail: textField(form, {
          name: 'mail',
          label: 'Mail address',
          hint: 'To sign in with instead of the name, and for a link when the password is forgotten',
          autocomplete: 'email',
          inputmode: 'email',
          optional: true,
        }),
        currentPassword: currentPassword(form),
      },
      form,
    ),
  }
}

/** The form for a new password; `signInName` tells password managers whose it is. */
export function passwordPage(form: TypedForm, account: OwnAccount) {
  return {
    title: account.hasPassword ? 'Change the password' : 'Choose a password',
    place,
    action: passwordPath(),
    back: accountPath(),
    asks: account.hasPassword,
    signInName: account.signInName,
    form: formModel(
      {
        currentPassword: currentPassword(form),
        newPassword: passwordField(form, {
          name: 'newPassword',
          label: 'New password',
          hint: passwordHint,
          autocomplete: 'new-password',
        }),
      },
      form,
    ),
  }
}

function currentPassword(form: TypedForm) {
  return passwordField(form, {
    name: 'currentPassword',
    label: 'Password you have now',
    autocomplete: 'current-password',
  })
}
