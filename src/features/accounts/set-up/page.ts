import type { UnitSystem } from '../../../core/units/index.ts'
import { formModel, passwordField, selectField, textField } from '../../../web/fields.ts'
import type { Typed, TypedForm } from '../../../web/forms.ts'
import { coopFields } from '../../coop/index.ts'
import { passwordHint } from '../password-rules.ts'
import { setUpPath } from '../paths.ts'
import { locales, timeZones } from './forms.ts'

/** The form for a co-op, its first household and its first steward. */
export function foundingPage(form: TypedForm, alone: UnitSystem) {
  const names = new Intl.DisplayNames('en', { type: 'region' })
  return {
    title: 'Set up a co-op',
    place: null,
    action: setUpPath(),
    alone,
    form: formModel(
      {
        setUpCode: codeField(form),
        ...coopFields(form, alone),
        timeZone: selectField(form, {
          name: 'timeZone',
          label: 'Time zone',
          options: [
            { value: '', text: 'Choose the nearest city' },
            { value: 'UTC', text: 'UTC' },
            ...timeZones().map((value) => ({ value, text: value.replaceAll('_', ' ') })),
          ],
        }),
        locale: selectField(form, {
          name: 'locale',
          label: 'Region',
          hint: 'How dates and numbers are written',
          options: locales.map((value) => ({ value, text: `English, ${names.of(value.slice(3)) ?? value}` })),
        }),
        currency: textField(form, {
          name: 'currency',
          label: 'Currency',
          hint: 'Three letters, like GBP, EUR or USD; it is not changed later',
        }),
        household: textField(form, {
          name: 'household',
          label: 'Your household',
          hint: 'As the others will call it; more households are added later',
        }),
        people: textField(form, { name: 'people', label: 'People who eat there', inputmode: 'numeric' }),
        steward: textField(form, { name: 'steward', label: 'Your name', autocomplete: 'name' }),
        ...accountFields(form),
      },
      form,
    ),
  }
}

/** The form that gives an account to the steward of a co-op from before there were accounts. */
export function letInPage(form: TypedForm, coopName: string) {
  return {
    title: `Open ${coopName} for its steward`,
    place: null,
    action: setUpPath(),
    form: formModel({ setUpCode: codeField(form), ...accountFields(form) }, form),
  }
}

/** What most will want, filled in beforehand. */
export const foundingBlank: Typed = { units: 'metric', locale: 'en-GB', people: '2' }

function codeField(form: TypedForm) {
  return textField(form, {
    name: 'setUpCode',
    label: 'Code',
    hint: 'The service printed it when it was started. Capitals and dashes make no difference',
    autocomplete: 'one-time-code',
  })
}

function accountFields(form: TypedForm) {
  return {
    signInName: textField(form, {
      name: 'signInName',
      label: 'Sign-in name',
      hint: 'Letters, digits, dots or dashes. Only you type it',
      autocomplete: 'username',
    }),
    mail: textField(form, {
      name: 'mail',
      label: 'Mail address',
      hint: 'To sign in with instead of the name',
      autocomplete: 'email',
      inputmode: 'email',
      optional: true,
    }),
    newPassword: passwordField(form, {
      name: 'newPassword',
      label: 'Password',
      hint: passwordHint,
      autocomplete: 'new-password',
    }),
  }
}
