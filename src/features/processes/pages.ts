import {
  jarSizes,
  type ProcessAnswer,
  type ProcessRow,
  packStyles,
  processMethods,
  processTable,
  type TestedProcess,
} from '../../core/process/index.ts'
import { crops } from '../../core/produce/index.ts'
import { metresPerFoot } from '../../core/units/index.ts'
import type { CoopWays } from '../../web/asking.ts'
import { formModel, radiosField, selectField, textField } from '../../web/fields.ts'
import { type Formatter, formatFor } from '../../web/format.ts'
import type { TypedForm } from '../../web/forms.ts'
import { handbookPath } from '../handbook/paths.ts'
import { lookUpPath, processesPath, processTablePath, untestedPath } from './paths.ts'
import {
  acidText,
  bandText,
  headspaceText,
  jarWords,
  minutesText,
  packWords,
  pressureText,
  processCaution,
  processMethodWords,
  sourceText,
} from './words.ts'

/** What was asked, as far as it was understood. */
export type Asked = { product: string; altitudeM: number; jar: (typeof jarSizes)[number] }

/** The look-up: the question, and its answer once there is one. */
export function lookUpPage(form: TypedForm, coop: CoopWays, found: { asked: Asked; answer: ProcessAnswer } | null) {
  const format = formatFor(coop)
  const fields = {
    product: textField(form, {
      name: 'product',
      label: 'What goes into the jar',
      hint: 'A crop or a product: plums, crushed tomatoes, apple butter',
      enterkeyhint: 'search',
    }),
    form: textField(form, {
      name: 'form',
      label: 'In which form',
      hint: 'Halved, sliced, whole, juice; empty shows every form that is known',
      optional: true,
      enterkeyhint: 'search',
    }),
    method: selectField(form, {
      name: 'method',
      label: 'In which canner',
      options: processMethods.map((value) => ({ value, text: processMethodWords[value] })),
    }),
    jar: selectField(form, {
      name: 'jar',
      label: 'In which jar',
      options: jarSizes.map((value) => ({ value, text: jarWords[value].one })),
    }),
    pack: radiosField(form, {
      name: 'pack',
      label: 'Packed how',
      options: [{ value: 'any', text: 'Either' }, ...packStyles.map((value) => ({ value, text: packWords[value] }))],
    }),
    altitude: textField(form, {
      name: 'altitude',
      label: 'At which altitude',
      hint: `In metres or feet; this kitchen lies at ${format.altitude(coop.altitudeM)}`,
    }),
  }
  return {
    title: 'Look up a tested process',
    place: 'coop' as const,
    action: processesPath(),
    form: formModel(fields, form),
    products: productNames(),
    tested: found?.answer.answer === 'tested' ? testedPart(found.asked, found.answer, format) : null,
    refused: found !== null && found.answer.answer !== 'tested' ? refusedPart(found.answer) : null,
    table: processTablePath(),
    untested: untestedPath(),
    handbook: handbookPath(),
  }
}

/** The whole table, one line for each product and form, with a link into the look-up for each. */
export function processTablePage(coop: CoopWays) {
  const format = formatFor(coop)
  const altitude = format.altitude(coop.altitudeM)
  return {
    title: 'Every tested process known here',
    place: 'coop' as const,
    sentence: `${format.count(processTable().length, 'row')} of published tables, each with its source.`,
    back: processesPath(),
    untested: untestedPath(),
    handbook: handbookPath(),
    groups: processMethods
      .filter((method) => method !== 'steam')
      .map((method) => ({
        heading: processMethodWords[method],
        rows: processTable()
          .filter((row) => row.method === method)
          .map((row) => tableRow(row, altitude, format)),
      }))
      .filter(({ rows }) => rows.length > 0),
  }
}

function tableRow(row: ProcessRow, altitude: string, format: Formatter) {
  const jar = row.jars.at(-1) ?? 'pint'
  return {
    name: row.product,
    href: lookUpPath({ product: row.product, form: row.form, pack: row.pack, jar, method: row.method, altitude }),
    form: row.form,
    pack: packWords[row.pack],
    jars: listOf(row.jars.map((size) => jarWords[size].more)),
    times: row.bands
      .map((band) => `${bandText(band, format)}: ${band.minutes} min${band.psi === null ? '' : ` at ${band.psi} psi`}`)
      .join('; '),
    source: sourceText(row.source),
  }
}

function testedPart({ altitudeM, jar }: Asked, answer: TestedProcess, format: Formatter) {
  const { row } = answer
  return {
    sentence: `${capital(minutesText(answer.minutes))}${answer.psi === null ? '' : ` at ${pressureText(answer)}`}`,
    what: `${capital(nameOf(row))}, ${packWords[answer.pack]}, ${jarWords[jar].more}, in a ${processMethodWords[answer.method]} at ${bothAltitudes(altitudeM, format)}.`,
    facts: factsOf(answer),
    row: rowPart(answer, format),
    others: answer.others.map((other) => ({
      says: `${minutesText(other.minutes)}${other.psi === null ? '' : ` at ${pressureText(other)}`}: ${nameOf(other.row)}, ${packWords[other.pack]}`,
      source: sourceText(other.source),
    })),
    notes: answer.notes,
    caution: processCaution(answer.method),
  }
}

function factsOf(answer: TestedProcess) {
  const acid = acidText(answer.acid)
  const fact = (name: string, says: string) => (says === '' ? [] : [{ name, says }])
  return [
    ...fact('Headspace', headspaceText(answer.headspaceIn)),
    ...fact('Acid in each jar', acid === '' ? '' : `${acid}. Bottled, not fresh; do not leave it out`),
    ...fact(
      'Jars',
      answer.sterileJars
        ? 'boiled empty first: the time is too short to do it'
        : 'clean and hot: the process is long enough to leave them unboiled',
    ),
    ...fact('Holds for', answer.row.asPublished ? 'the published recipe as it stands, not for one of your own' : ''),
    ...fact('Source', sourceText(answer.source)),
  ]
}

/** The row of the table as it is printed, the column in use marked. */
function rowPart({ row, band }: TestedProcess, format: Formatter) {
  return {
    caption: `${nameOf(row)}, ${packWords[row.pack]}, ${listOf(row.jars.map((size) => jarWords[size].more))}`,
    pressed: row.bands.some(({ psi }) => psi !== null),
    bands: row.bands.map((one) => ({
      altitude: bandText(one, format),
      metres: metresText(one, format),
      minutes: String(one.minutes),
      psi: one.psi === null ? '' : String(one.psi),
      here: one === band,
    })),
  }
}

function metresText({ fromFt, toFt }: { fromFt: number; toFt: number | null }, format: Formatter): string {
  const metres = (feet: number) => format.number(Math.floor(feet * metresPerFoot))
  if (toFt === null) return `above ${metres(fromFt - 1)} m`
  return `up to ${metres(toFt)} m`
}

function refusedPart(answer: Exclude<ProcessAnswer, TestedProcess>) {
  return {
    heading: answer.answer === 'refused' ? 'Not to be canned like this' : 'No tested process is known here',
    says: answer.says,
    instead: [...answer.instead],
    source: answer.answer === 'refused' && answer.source !== null ? sourceText(answer.source) : '',
  }
}

function bothAltitudes(metres: number, format: Formatter): string {
  return `${format.number(Math.round(metres))} m (${format.number(Math.round(metres / metresPerFoot))} ft)`
}

/** Names for the list beneath the field: what the tables call products, and the crops. */
function productNames(): string[] {
  const named = [...processTable().map(({ product }) => product), ...crops.map(({ plural }) => plural)]
  return [...new Set(named)].sort((a, b) => a.localeCompare(b, 'en'))
}

function nameOf({ product, form }: ProcessRow): string {
  return form === '' ? product : `${product}, ${form}`
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1)
}

function listOf(words: readonly string[]): string {
  return words.length < 2 ? (words[0] ?? '') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`
}
