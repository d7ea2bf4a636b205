import type { CoopWays } from '../../web/asking.ts'
import { beam } from '../../web/beam.ts'
import { checkboxesField, dateField, formModel, numberField, textareaField } from '../../web/fields.ts'
import { type Formatter, formatFor } from '../../web/format.ts'
import type { Typed, TypedForm } from '../../web/forms.ts'
import { labelsPath } from '../labels/paths.ts'
import { classWords, lotTitle } from '../lots/index.ts'
import { lotPath } from '../lots/paths.ts'
import { planPath } from '../plans/paths.ts'
import { processCaution } from '../processes/index.ts'
import { newRecallPath, traceBatchPath } from '../recalls/paths.ts'
import { trimWords } from '../recipes/index.ts'
import { recipePath } from '../recipes/paths.ts'
import { keepingWords, unitsText } from '../shelf/index.ts'
import { jarBatchPath } from '../shelf/paths.ts'
import { newSlowJobPath } from '../slow-jobs/paths.ts'
import { batchesPath, batchPath, batchRecordPath } from './paths.ts'
import { processRows, unsealedWords } from './process-rows.ts'
import type { Batch } from './queries.ts'

type Helper = { id: string; name: string }
type Change = { at: Date; who: string; what: string }

/** The correction's fields as they stand. */
export function changeTyped(batch: Batch): Typed {
  return {
    note: batch.note ?? '',
    bestBy: batch.bestBy ?? '',
    handMinutes: batch.handMinutes === null ? '' : String(batch.handMinutes),
    helpers: batch.helpers.flatMap(({ helperId }) => helperId ?? []),
  }
}

/** One batch: what went in, what came out, how it was processed, where it is. */
export function batchPage(
  form: TypedForm,
  {
    batch,
    helpers,
    changes,
    version,
  }: { batch: Batch; helpers: readonly Helper[]; changes: readonly Change[]; version: number },
  coop: CoopWays,
) {
  const format = formatFor(coop)
  const left = batch.jars.reduce((sum, { stock }) => sum + stock, 0)
  return {
    title: `${batch.product} ${batch.code}`,
    place: 'shelf' as const,
    sentence: `${unitsText(batch.units, batch, format)} of ${format.weight(batch.inGrams)}, made ${format.date(batch.madeOn)}. ${left === batch.units ? 'All of them are' : `${format.number(left)} ${left === 1 ? 'is' : 'are'}`} on the shelf.`,
    recalled: batch.recalled,
    beam: beamOf(batch, format),
    facts: factsOf(batch, format),
    inputs: inputRows(batch, format),
    process: processRows(batch, format),
    problems: batch.process?.problems.map(({ says }) => says) ?? [],
    unsealed: unsealedWords(batch),
    caution: batch.process === null ? '' : processCaution(batch.process.method),
    record: batch.process === null ? '' : batchRecordPath(batch.id),
    jars: batch.jars.map(({ id, stock, place, household }) => ({
      href: jarBatchPath(id),
      where: `${place}, ${household === null ? 'shared' : `of ${household}`}`,
      stock: unitsText(stock, batch, format),
    })),
    trim: batch.trim.map(({ kind, grams, outlet }) => ({
      what: trimWords[kind],
      weight: format.weight(grams),
      to: outlet ?? 'not said',
    })),
    history: changes.map(({ at, who, what }) => `${format.instant(at)}, ${who}: ${what}.`),
    links: [
      { href: labelsPath(batch.id), text: 'Print labels' },
      { href: traceBatchPath(batch.id), text: 'Where it came from and where it went' },
      { href: newSlowJobPath(batch.id), text: 'Something of it takes days or months' },
      { href: newRecallPath({ batchId: batch.id }), text: 'Recall it' },
      { href: recipePath(batch.recipeId), text: 'The recipe' },
      ...(batch.planId === null ? [] : [{ href: planPath(batch.planId), text: `The plan: ${batch.plan ?? ''}` }]),
      { href: batchesPath(), text: 'All batches' },
    ],
    action: batchPath(batch.id),
    version: String(version),
    form: formModel(
      {
        bestBy: dateField(form, { name: 'bestBy', label: 'Best by', optional: true }),
        handMinutes: numberField(form, {
          name: 'handMinutes',
          label: 'Minutes of all hands together',
          suffix: 'min',
          optional: true,
        }),
        helpers: checkboxesField(form, {
          name: 'helpers',
          label: 'Who helped',
          optional: true,
          options: helpers.map(({ id, name }) => ({ value: id, text: name })),
        }),
        note: textareaField(form, { name: 'note', label: 'Note', rows: 2, optional: true }),
      },
      form,
    ),
  }
}

/** The process record on paper. */
export function recordPage(batch: Batch, coop: CoopWays) {
  const format = formatFor(coop)
  return {
    title: `Process record: ${batch.product} ${batch.code}`,
    place: 'shelf' as const,
    sentence: `${unitsText(batch.units, batch, format)}, made ${format.date(batch.madeOn)}, recipe version ${batch.recipeVersion}.`,
    rows: processRows(batch, format),
    problems: batch.process?.problems.map(({ says }) => says) ?? [],
    unsealed: unsealedWords(batch),
    caution: batch.process === null ? '' : processCaution(batch.process.method),
    inputs: inputRows(batch, format),
    note: batch.note ?? '',
    back: batchPath(batch.id),
  }
}

/** Null where there is nothing to draw, or more trim was weighed than went in. */
function beamOf({ inGrams, trim }: Batch, format: Formatter) {
  const trimmed = trim.reduce((sum, { grams }) => sum + grams, 0)
  if (inGrams === 0 || trimmed > inGrams) return null
  const rest = inGrams - trimmed
  return beam({
    id: 'batch',
    title: `Where the ${format.weight(inGrams)} that went in are`,
    whole: inGrams,
    segments: [
      { label: 'put up, or boiled away', amount: rest, text: format.weight(rest), pattern: 'jars' },
      ...trim.map(({ kind, grams, outlet }) => ({
        label: `${trimWords[kind]}${outlet === null ? '' : `, to ${outlet}`}`,
        amount: grams,
        text: format.weight(grams),
        pattern: 'trim' as const,
      })),
    ],
  })
}

function factsOf(batch: Batch, format: Formatter) {
  const { expectedUnits, expectedHandMinutes, handMinutes } = batch
  const facts: [string, string][] = [
    ['Code', batch.code],
    ['Variety', batch.variety ?? ''],
    ['Kept', keepingWords[batch.keeping]],
    ['Best by', batch.bestBy === null ? 'no date: none is published for it' : format.date(batch.bestBy)],
    [
      'Came out',
      `${unitsText(batch.units, batch, format)}${expectedUnits === null ? '' : `; ${format.number(expectedUnits, 1)} were expected`}`,
    ],
    [
      'Hands',
      handMinutes === null
        ? 'not noted'
        : `${format.duration(handMinutes)}${expectedHandMinutes === null ? '' : `; ${format.duration(expectedHandMinutes)} were expected`}`,
    ],
    ['Made by', batch.helpers.map(({ name }) => name).join(', ')],
    ['Allergens', batch.allergens.join(', ')],
    ['Note', batch.note ?? ''],
    ['Finished', `${batch.finishedBy}, ${format.instant(batch.finishedAt)}`],
  ]
  return facts.filter(([, value]) => value !== '').map(([name, value]) => ({ name, value }))
}

function inputRows({ inputs, inGrams }: Batch, format: Formatter) {
  const rows = inputs.map((input) =>
    input.kind === 'lot'
      ? {
          href: lotPath(input.lotId),
          name: `${lotTitle(input)}, from ${input.broughtBy}`,
          how: input.class === null ? '' : classWords[input.class].name,
          weight: format.weight(input.grams),
        }
      : {
          href: batchPath(input.batchId),
          name: `${input.product} ${input.code}`,
          how: `${format.number(input.units)} used`,
          weight: format.weight(input.grams),
        },
  )
  const other = inGrams - inputs.reduce((sum, { grams }) => sum + grams, 0)
  return other > 0
    ? [...rows, { href: '', name: 'Trim of other batches', how: '', weight: format.weight(other) }]
    : rows
}
