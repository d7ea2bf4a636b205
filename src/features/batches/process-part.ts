import type { ProcessMethod, TestedProcess } from '../../core/process/index.ts'
import type { CoopWays } from '../../web/asking.ts'
import { type AnyField, checkboxField, dateField, numberField, selectField, textField } from '../../web/fields.ts'
import { formatFor } from '../../web/format.ts'
import type { TypedForm } from '../../web/forms.ts'
import {
  acidText,
  headspaceText,
  minutesText,
  pressureText,
  processCaution,
  processMethodWords,
  sourceText,
  typedHeadspace,
} from '../processes/index.ts'
import type { Making } from './making.ts'
import { departureWords } from './words.ts'

/** How the jars of this recipe may be heated. */
function methodsOf({ recipe }: Making): ProcessMethod[] {
  return recipe.method === 'pressure-canned' ? ['dial-gauge', 'weighted-gauge'] : ['boiling-water', 'steam']
}

/** What is known before anybody has looked at the canner. */
export function processTyped(making: Making): Record<string, string> {
  if (!making.canned) return {}
  const { process, local } = making.verdict
  const headspace = process?.headspaceMm ?? local?.headspaceMm ?? null
  return {
    'process.method': process?.method ?? local?.method ?? methodsOf(making)[0] ?? '',
    'process.headspace': headspace === null ? '' : typedHeadspace(headspace),
  }
}

/** The process of canned food: what is due here, and the fields of its record. null: it is not canned. */
export function processPart(
  form: TypedForm,
  making: Making,
  canners: readonly { name: string }[],
  coop: CoopWays,
  keep: <F extends AnyField>(field: F) => F,
) {
  if (!making.canned) return null
  const pressed = making.recipe.method === 'pressure-canned'
  const reached = pressed ? 'Pressure reached at' : 'Full boil or steam reached at'
  return {
    due: dueWords(making, coop),
    departs: making.verdict.shelfStable ? '' : departureWords(making, null),
    departures: making.verdict.departures.map(({ says }) => says),
    caution: processCaution(pressed ? 'dial-gauge' : 'boiling-water'),
    canners: canners.map(({ name }) => name),
    method: keep(
      selectField(form, {
        name: 'process.method',
        label: 'Heated in',
        options: methodsOf(making).map((value) => ({ value, text: processMethodWords[value] })),
      }),
    ),
    canner: keep(textField(form, { name: 'process.canner', label: 'Which canner' })),
    before: [
      keep(textField(form, { name: 'process.headspace', label: 'Headspace', hint: 'As it was left: 12 mm, 1/2 in' })),
      ...(pressed
        ? [
            keep({
              ...numberField(form, { name: 'process.vented', label: 'Vented for', suffix: 'min' }),
              inputmode: 'numeric',
            }),
          ]
        : []),
    ],
    acid: keep(checkboxField(form, { name: 'process.acid', label: 'The acid that is due was measured into each jar' })),
    times: [
      keep(
        dateField(form, {
          name: 'process.date',
          label: 'Day',
          hint: 'Left empty: the day on which it was made',
          optional: true,
        }),
      ),
      keep(
        textField(form, {
          name: 'process.reachedAt',
          label: reached,
          hint: 'Like 14:05. Of several loads, the shortest.',
        }),
      ),
      keep(textField(form, { name: 'process.endedAt', label: 'Heat off at' })),
      ...(pressed
        ? [
            keep(
              textField(form, {
                name: 'process.pressure',
                label: 'Lowest pressure shown',
                hint: 'Like 11 psi or 76 kPa',
              }),
            ),
          ]
        : []),
      keep(textField(form, { name: 'process.lostAt', label: 'Boil or pressure was lost at', optional: true })),
      keep(textField(form, { name: 'process.againAt', label: 'And back at', optional: true })),
    ],
    by: keep(textField(form, { name: 'process.by', label: 'Who watched it', hint: 'Names, with commas between them' })),
    seals: [
      keep(
        dateField(form, {
          name: 'process.sealsOn',
          label: 'Seals tried on',
          hint: 'After 12 hours of cooling',
          optional: true,
        }),
      ),
      keep(textField(form, { name: 'process.sealsAt', label: 'At', optional: true })),
    ],
  }
}

/** "10 minutes in a boiling-water canner at 300 m; headspace ...": every tested way of this recipe here. */
function dueWords({ verdict }: Making, coop: CoopWays): string[] {
  const altitude = formatFor(coop).altitude(coop.altitudeM)
  const { process, local } = verdict
  if (local !== null) {
    const acid = local.acid === '' ? '' : `; ${local.acid}`
    return [`${minutesText(local.minutes)} in a ${processMethodWords[local.method]}${acid}. ${local.source}`]
  }
  if (process === null) return []
  return [process, ...process.others.filter(({ jar, pack }) => jar === process.jar && pack === process.pack)].map(
    (one) => dueLine(one, altitude),
  )
}

function dueLine(one: TestedProcess, altitude: string): string {
  const acid = acidText(one.acid)
  return [
    `${minutesText(one.minutes)}${one.psi === null ? '' : ` at ${pressureText(one)}`} in a ${processMethodWords[one.method]} at ${altitude}`,
    ...(one.headspaceIn === null ? [] : [`headspace ${headspaceText(one.headspaceIn)}`]),
    ...(acid === '' ? [] : [`${acid} in each jar`]),
    ...(one.sterileJars ? ['jars boiled empty first'] : []),
    sourceText(one.source),
  ].join('; ')
}
