import { z } from 'zod'
import { jarSizes, packStyles, processMethods } from '../../core/process/index.ts'
import { parseLength } from '../../core/units/index.ts'
import { choice, neededText, optionalText, read } from '../../web/forms.ts'

/** An address's question: texts, all of them optional; the form that reads it says what is missing. */
export const askedQuery = z.object({
  product: z.string().max(200).optional(),
  form: z.string().max(200).optional(),
  pack: z.string().max(20).optional(),
  jar: z.string().max(20).optional(),
  method: z.string().max(20).optional(),
  altitude: z.string().max(40).optional(),
})

/** The altitude of a co-op is typed with a unit, or as a bare number in the unit it reads. */
export function lookUpForm(bareUnit: 'm' | 'ft') {
  return z.object({
    product: neededText('Enter what goes into the jar, like “plums”', 80),
    form: optionalText(80),
    pack: choice(['any', ...packStyles], 'Choose how it is packed'),
    jar: choice(jarSizes, 'Choose a jar'),
    method: choice(processMethods, 'Choose a canner'),
    altitude: read<number>((typed) => {
      const length = parseLength(/^-?[\d.,]+$/.test(typed) ? `${typed} ${bareUnit}` : typed)
      return length.ok
        ? { value: length.metres }
        : { problem: 'Enter the altitude with its unit, like “1,400 m” or “4,600 ft”' }
    }, 40),
  })
}
