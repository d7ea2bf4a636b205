import { z } from 'zod'
import { type Pack, type RecipeDefinition, type ScaleBy, unitsOfALoad } from '../../core/recipes/index.ts'
import { parseMass } from '../../core/units/index.ts'
import { notFound } from '../../errors.ts'
import {
  blankForm,
  choice,
  neededText,
  read,
  readForm,
  refusedForm,
  type Typed,
  type TypedForm,
} from '../../web/forms.ts'

export const scaleKinds = ['weight', 'units', 'loads'] as const

/** An address's question: so much of one size. */
export const amountsQuery = z.object({
  pack: z.string().max(40).optional(),
  by: z.string().max(20).optional(),
  much: z.string().max(60).optional(),
})

export type AmountsAsked =
  | { ok: true; form: TypedForm; pack: Pack; by: ScaleBy }
  | { ok: false; form: TypedForm & { ok: false } }

/** What an address asks of a recipe, or what is wrong with it; one load of the first size where it asks nothing. */
export function readAmountsAsked(
  { packs }: Pick<RecipeDefinition, 'packs'>,
  { pack, by, much }: z.output<typeof amountsQuery>,
): AmountsAsked {
  const [first] = packs
  if (first === undefined) throw notFound('such size')
  const typed: Typed = {
    pack: pack ?? first.key,
    by: by ?? 'loads',
    much: much ?? (by === undefined ? '1' : ''),
  }
  const form = readForm(amountsForm(packs), typed)
  if (!form.ok) return { ok: false, form }
  const scale = scaleOf(form.values.by, form.values.much)
  if ('problem' in scale) return { ok: false, form: refusedForm(form, { much: scale.problem }) }
  const chosen = packs.find(({ key }) => key === form.values.pack) ?? first
  if (unitsIn(scale.by, chosen) > mostUnits) {
    const words = `That is more than 10,000 ${chosen.units}: enter less`
    return { ok: false, form: refusedForm(form, { much: words }) }
  }
  return { ok: true, form: blankForm(typed), pack: chosen, by: scale.by }
}

/** The form's fields; what `much` means depends on `by`: see `scaleOf`. */
function amountsForm(packs: readonly Pack[]) {
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
function scaleOf(by: (typeof scaleKinds)[number], much: string): { by: ScaleBy } | { problem: string } {
  const got = by === 'weight' ? grams.safeParse(much) : whole.safeParse(much)
  if (!got.success) return { problem: got.error.issues[0]?.message ?? 'Enter how much' }
  return { by: by === 'weight' ? { grams: got.data } : by === 'units' ? { units: got.data } : { loads: got.data } }
}

/** Beyond any co-op's day. */
const mostUnits = 10_000

function unitsIn(by: ScaleBy, pack: Pack): number {
  if ('grams' in by) return by.grams / pack.gramsPerUnit
  return 'units' in by ? by.units : by.loads * unitsOfALoad(pack)
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
