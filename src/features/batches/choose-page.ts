import type { CoopWays } from '../../web/asking.ts'
import { formModel, numberField, selectField } from '../../web/fields.ts'
import { formatFor } from '../../web/format.ts'
import type { TypedForm } from '../../web/forms.ts'
import { planPath } from '../plans/paths.ts'
import type { KeptRecipe } from '../recipes/queries.ts'
import { batchesPath, batchPath, newBatchPath } from './paths.ts'
import type { PlannedBatches } from './planned.ts'

/** The first step without a plan: what was made, in which size. */
export function choosePage(
  form: TypedForm,
  recipes: readonly KeptRecipe[],
  plans: readonly { id: string; name: string }[],
) {
  const options = recipes
    .filter(({ retired }) => !retired)
    .flatMap(({ id, name, definition }) =>
      definition.packs.map(({ key, units }) => ({ value: `${id}:${key}`, text: `${name}, ${units}` })),
    )
  return {
    title: 'Finish a batch',
    place: 'shelf' as const,
    plans: plans.map(({ id, name }) => ({ href: newBatchPath(id), name })),
    none: options.length === 0,
    action: newBatchPath(),
    form: formModel(
      {
        product: selectField(form, { name: 'product', label: 'What was made', options }),
        units: {
          ...numberField(form, {
            name: 'units',
            label: 'About how many',
            hint: 'Left empty: one load',
            optional: true,
          }),
          inputmode: 'numeric',
        },
      },
      form,
    ),
    back: batchesPath(),
  }
}

/** A plan's batches that are still to be finished. */
export function plannedPage({ planId, plan, division, open, finished }: PlannedBatches, coop: CoopWays) {
  const format = formatFor(coop)
  return {
    title: `Finish a batch of ${plan}`,
    place: 'shelf' as const,
    sentence: sentenceOf(division, open.length, finished.length),
    open: open.map(({ id, recipe, unit, unitsName, units, grams, date }) => ({
      name: recipe,
      says: `${format.count(units, unit, unitsName)} of ${format.weight(grams)}, planned for ${format.day(date)}`,
      href: newBatchPath(planId, id),
    })),
    finished: finished.map(({ batchId, code, product }) => ({ href: batchPath(batchId), name: `${product}, ${code}` })),
    other: newBatchPath(),
    plan: planPath(planId),
  }
}

function sentenceOf(division: number | null, open: number, finished: number): string {
  if (division === null) return 'This plan was not worked out yet, so nothing of it is to be finished.'
  const batches = (many: number) => `${many} ${many === 1 ? 'batch' : 'batches'}`
  if (open === 0)
    return finished === 0
      ? `Division ${division} makes nothing.`
      : `All ${batches(finished)} of division ${division} are finished.`
  return `${batches(open)} of division ${division} still to be finished${finished === 0 ? '' : `, ${finished} done`}.`
}
