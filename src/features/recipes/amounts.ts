import { z } from 'zod'
import type { Pack, ScaleBy } from '../../core/recipes/index.ts'
import { parseMass } from '../../core/units/index.ts'
import { choice, neededText, read } from '../../web/forms.ts'

export const scaleKinds = ['weight', 'units', 'loads'] as const

/** An address's question: so much of one size. */
export const amountsQuery = z.object({
  pack: z.string().max(40).optional(),
  by: z.string().max(20).optional(),
  much: z.string().max(60).optional(),
})

/** The form's fields; what `much` means depends on `by`: see `scaleOf`. */
export function amountsForm(packs: readonly Pack[]) {
  return z.object({
    pack: choice(
      packs.map(({ key }) => key),
      'Choose a size',
    ),
    by: choice(scaleKinds, 'Choose what is counted'),
    much: neededText('Enter how much, like “63 kg” or 14', 60),
  })
}

/** How much is to be made: a weight, a number of units or of full loads; or what to enter instead. */
export function scaleOf(by: (typeof scaleKinds)[number], much: string): { by: ScaleBy } | { problem: string } {
  const got = by === 'weight' ? grams.safeParse(much) : whole.safeParse(much)
  if (!got.success) return { problem: got.error.issues[0]?.message ?? 'Enter how much' }
  return { by: by === 'weight' ? { grams: got.data } : by === 'units' ? { units: got.data } : { loads: got.data } }
}

/** Ten tonnes and ten thousand jars: beyond any co-op's day. */
const grams = read<number>((typed) => {
  const mass = parseMass(/^[\d.,]+$/.test(typed) ? `${typed} kg` : typed)
  return mass.ok && mass.grams <= 10_000_000
    ? { value: mass.grams }
    : { problem: 'Enter a weight, like “63 kg” or “20 lb”' }
}, 60)
const whole = read<number>((typed) => {
  const many = /^\d{1,5}$/.test(typed) ? Number(typed) : 0
  return many >= 1 && many <= 10_000 ? { value: many } : { problem: 'Enter a whole number from 1 to 10,000' }
}, 60)
