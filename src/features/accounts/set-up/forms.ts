import { z } from 'zod'
import type { UnitSystem } from '../../../core/units/index.ts'
import { choice, neededText, read, type TypedForm, wholeNumber } from '../../../web/forms.ts'
import { coopForm } from '../../coop/index.ts'
import { newAccountFields } from '../forms.ts'
import { passwordProblem } from '../password-rules.ts'

const setUpCode = neededText('Enter the code that the service printed when it was started', 200)

/** Pages are in English: these are the ways of its regions to write dates, numbers and money. */
export const locales = ['en-GB', 'en-IE', 'en-US', 'en-CA', 'en-AU', 'en-NZ', 'en-ZA', 'en-IN'] as const

/** @param alone in whose units a bare number is an altitude */
export const foundingForm = (alone: UnitSystem) =>
  coopForm(alone).extend({
    setUpCode,
    timeZone: read((typed) =>
      isTimeZone(typed) ? { value: typed } : { problem: 'Choose the time zone of the kitchen' },
    ),
    locale: choice(locales, 'Choose the region'),
    currency: read((typed) => {
      const code = typed.toUpperCase()
      return isCurrency(code)
        ? { value: code }
        : { problem: 'Enter the three letters of a currency that has hundredths, like GBP, EUR or USD' }
    }, 10),
    household: neededText('Enter the name of your household', 80),
    people: wholeNumber('Enter how many people eat there, like 4', 1, 99),
    steward: neededText('Enter your name', 80),
    ...newAccountFields,
  })

/** For a co-op from before there were accounts. */
export const letInForm = z.object({ setUpCode, ...newAccountFields })

/** What is wrong with the password that was chosen, by field; nothing for one that will do. */
export function passwordProblems(
  { newPassword, signInName }: { newPassword: string; signInName: string },
  coopName: string,
): Record<string, string> {
  const problem = passwordProblem(newPassword, [signInName, coopName])
  return problem === null ? {} : { newPassword: problem }
}

/** The code as it was typed; '' for none. */
export function typedCode({ typed }: TypedForm): string {
  const code = typed['setUpCode']
  return typeof code === 'string' ? code : ''
}

/** The zones that can be chosen, by their IANA names. */
export function timeZones(): string[] {
  return Intl.supportedValuesOf('timeZone')
}

function isTimeZone(name: string): boolean {
  return name === 'UTC' || timeZones().includes(name)
}

/** Amounts are kept in hundredths: a currency that has others, or none, would be written wrongly. */
function isCurrency(code: string): boolean {
  if (!Intl.supportedValuesOf('currency').includes(code)) return false
  const format = new Intl.NumberFormat('en', { style: 'currency', currency: code })
  return format.resolvedOptions().maximumFractionDigits === 2
}
