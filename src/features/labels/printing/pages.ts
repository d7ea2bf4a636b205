import { labelSize } from '../../../core/labels/index.ts'
import type { CoopWays } from '../../../web/asking.ts'
import {
  type ChoiceField,
  checkboxesField,
  checkboxField,
  formModel,
  numberField,
  type OptionModel,
  selectField,
  textField,
} from '../../../web/fields.ts'
import { formatFor } from '../../../web/format.ts'
import type { Typed, TypedForm } from '../../../web/forms.ts'
import { batchPath } from '../../batches/paths.ts'
import { jarCodePath, shelfPath } from '../../shelf/paths.ts'
import { sheetDrawing } from '../drawing.ts'
import { labelSheetsPath, labelsPath, labelsPdfPath } from '../paths.ts'
import { isSent, type Listed, unitsName } from './forms.ts'
import { type JarsToLabel, type LabelledBatch, MOST_LINES } from './queries.ts'
import { firstChoice, type SheetChoice } from './sheet-choices.ts'

export type PrintingFacts = {
  listed: Listed
  /** The batch that the address names. */
  batch: LabelledBatch | null
  /** What is offered, those that are ticked first where they are not among the others. */
  jars: readonly JarsToLabel[]
  choices: readonly SheetChoice[]
  /** The address of the service, and whether a phone finds it there. */
  origin: string
  here: boolean
}

export function printingPage(facts: PrintingFacts, sent: TypedForm, coop: CoopWays) {
  const { listed, batch, jars, choices, origin } = facts
  const format = formatFor(coop)
  const form = { ...sent, typed: { ...startOf(facts, sent.typed, coop), ...sent.typed } }
  const ticks = checkboxesField(form, {
    name: 'print',
    label: 'What to print labels for',
    options: jars.map(({ id, product }) => ({ value: id, text: product })),
  })
  const counts = jars.map(({ id, product, place }) =>
    numberField(form, { name: unitsName(id), label: `How many labels for ${product}, ${place}` }),
  )
  const chosen = choices.find(({ value }) => value === form.typed['sheet']) ?? firstChoice(choices, coop.units)
  const startAt = freeLabel(form.typed['start'], chosen)
  return {
    title: batch === null ? 'Print labels' : `Print labels: ${batch.product}, batch ${batch.code}`,
    place: 'shelf' as const,
    action: labelsPath(),
    print: labelsPdfPath(),
    batchId: listed.batch,
    sentence: sentenceOf(facts),
    rows: jars.map((one, i) => {
      const tick = ticks.options[i]
      const units = counts[i]
      if (tick === undefined || units === undefined) throw new Error('jars without a field')
      const { product, variety, code, madeOn, household, place, stock } = one
      return {
        tick,
        units,
        product: variety === null ? product : `${product}, ${variety}`,
        batch: `batch ${code}, made ${format.date(madeOn)}`,
        recalled: one.recalled,
        where: `${format.count(stock, one.unit, one.unitsName)}, ${household ?? 'shared'}, ${place}`,
      }
    }),
    ticksError: ticks.error,
    codes: `${origin}${jarCodePath(jars[0]?.code ?? 'CODE')}`,
    here: facts.here,
    ...sheetDrawing(chosen.geometry, startAt),
    sheetSize: sizeWords(chosen),
    sheets: labelSheetsPath(),
    other: batch === null ? '' : labelsPath(),
    back:
      batch === null
        ? { href: shelfPath(), text: 'Back to the shelf' }
        : { href: batchPath(batch.id), text: 'Back to the batch' },
    form: formModel(
      {
        q: textField(form, {
          name: 'q',
          label: 'Look for other batches',
          hint: 'A product, a variety or a code',
          optional: true,
        }),
        print: ticks,
        ...Object.fromEntries(counts.map((field) => [field.name, field])),
        sheet: groupedSheets(form, choices),
        start: numberField(form, {
          name: 'start',
          label: 'First free label',
          hint: '1 for a fresh sheet; numbers as in the drawing',
        }),
        outlines: checkboxField(form, {
          name: 'outlines',
          label: 'Draw an outline round each label',
          hint: 'For plain paper that is cut',
        }),
      },
      form,
    ),
  }
}

/** What stands in the form before anybody types: of a named batch every jar, else nothing ticked; as many labels as jars. */
function startOf({ jars, batch, choices }: PrintingFacts, typed: Typed, coop: CoopWays): Typed {
  const counts = Object.fromEntries(jars.map(({ id, stock }) => [unitsName(id), stock > 0 ? String(stock) : '']))
  if (isSent(typed)) return counts
  return {
    ...counts,
    print: batch === null ? [] : jars.filter(({ recalled }) => !recalled).map(({ id }) => id),
    sheet: firstChoice(choices, coop.units).value,
    start: '1',
  }
}

function sentenceOf({ batch, jars, listed }: PrintingFacts): string {
  if (jars.length === 0) {
    if (batch !== null) return 'None of this batch is on the shelf.'
    return listed.q === '' ? 'Nothing is on the shelf yet.' : `Nothing on the shelf is called “${listed.q}”.`
  }
  if (batch !== null) return 'Every jar of this batch is ticked: change how many, or take a tick out.'
  if (jars.length >= MOST_LINES) return `Tick what gets labels. These are the newest; look for others by name.`
  return 'Tick what gets labels.'
}

function sizeWords({ geometry: { label } }: SheetChoice): string {
  const { width, height } = labelSize(label)
  return label.shape === 'round' ? `Each is ${width / 100} mm round.` : `Each is ${width / 100} x ${height / 100} mm.`
}

/** The first free label as it was typed, where the sheet has it; else 1. */
function freeLabel(typed: Typed[string] | undefined, { geometry }: SheetChoice): number {
  const number = typeof typed === 'string' && /^\d{1,4}$/.test(typed.trim()) ? Number(typed) : 1
  return number >= 1 && number <= geometry.columns * geometry.rows ? number : 1
}

type Group = { label: string; options: OptionModel[] }

function groupedSheets(
  form: TypedForm,
  choices: readonly SheetChoice[],
): ChoiceField & { none: OptionModel[]; groups: Group[] } {
  const field = selectField(form, {
    name: 'sheet',
    label: 'Sheet of labels',
    hint: 'Columns x rows, width x height of a label',
    options: choices.map(({ value, name }) => ({ value, text: name })),
  })
  const groups = [...new Set(choices.map(({ group }) => group))]
  return {
    ...field,
    none: [],
    groups: groups.map((label) => ({
      label,
      options: field.options.filter((_, i) => choices[i]?.group === label),
    })),
  }
}
