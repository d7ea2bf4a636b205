import { mostLabels } from '../../../core/labels/index.ts'
import { notFound } from '../../../errors.ts'
import { idText } from '../../../ids.ts'
import { fieldReader } from '../../../web/field-reader.ts'
import { checkbox, type ReadForm, read, type Typed, wholeNumber } from '../../../web/forms.ts'
import { type JarsToLabel, MOST_LINES } from './queries.ts'
import type { SheetChoice } from './sheet-choices.ts'

/** What is to be printed: labels of jars in this order, on a sheet from its first free label. */
export type Printing = {
  lines: { jars: JarsToLabel; units: number }[]
  sheet: SheetChoice
  startAt: number
  outlines: boolean
}

/** The field with the number of labels for jars. */
export const unitsName = (jarBatchId: string): string => `units.${jarBatchId}`

/** What the address asks to list: the jars of a batch, and of batches that a search finds; '' for none. */
export type Listed = { batch: string; q: string }

/** Characters that nobody sees count as spaces in a search. @throws not found for a batch that can be none */
export function listedIn(typed: Typed): Listed {
  const [batch = ''] = [typed['batch'] ?? ''].flat()
  const [q = ''] = [typed['q'] ?? ''].flat()
  if (batch !== '' && !idText.safeParse(batch).success) throw notFound('such batch')
  return {
    batch,
    q: q
      .normalize('NFC')
      .replace(/\p{Cc}/gu, ' ')
      .trim()
      .slice(0, 100),
  }
}

/** The ids of the jars that are ticked, each once; what can be no id is left out. */
export function tickedIds(typed: Typed): string[] {
  const ids = [typed['print'] ?? []].flat().filter((id) => idText.safeParse(id).success)
  return [...new Set(ids)].slice(0, MOST_LINES + 1)
}

/** Whether the address holds the form as it was sent, and not only what to list. */
export const isSent = (typed: Typed): boolean => typed['sheet'] !== undefined

/** @param ticked the jars of `tickedIds`, in that order */
export function readPrinting(
  typed: Typed,
  ticked: readonly JarsToLabel[],
  choices: readonly SheetChoice[],
): ReadForm<Printing> {
  const { get, errors } = fieldReader(typed)
  const count = wholeNumber(`Enter how many labels, from 1 to ${mostLabels}`, 1, mostLabels)
  const lines = ticked.map((jars) => ({ jars, units: get(unitsName(jars.id), count, 1) }))
  for (const { jars } of lines) {
    if (jars.recalled) errors[unitsName(jars.id)] ??= `Batch ${jars.code} is recalled: no labels are printed for it`
  }
  const all = lines.reduce((sum, { units }) => sum + units, 0)
  if (lines.length === 0) errors['print'] = 'Tick what to print labels for'
  else if (lines.length > MOST_LINES)
    errors['print'] = `Tick at most ${MOST_LINES} lines, and print the others after them`
  else if (all > mostLabels)
    errors['print'] = `That makes ${all} labels: print at most ${mostLabels} at once, and the others after them`
  const sheet = get('sheet', sheetOf(choices), null)
  const labels = sheet === null ? null : sheet.geometry.columns * sheet.geometry.rows
  const most = labels ?? mostLabels
  const startAt = get('start', wholeNumber(startWords(labels), 1, most), 1)
  const outlines = get('outlines', checkbox(), false)
  return sheet !== null && Object.keys(errors).length === 0
    ? { ok: true, typed, errors: {}, values: { lines, sheet, startAt, outlines } }
    : { ok: false, typed, errors }
}

function startWords(labels: number | null): string {
  if (labels === null) return 'Enter the number of the first free label, 1 for a fresh sheet'
  return labels === 1 ? 'This sheet has one label: enter 1' : `This sheet has labels 1 to ${labels}: enter one of them`
}

function sheetOf(choices: readonly SheetChoice[]) {
  return read<SheetChoice | null>((typed) => {
    const choice = choices.find(({ value }) => value === typed)
    return choice === undefined ? { problem: 'Choose the sheet of labels' } : { value: choice }
  })
}
