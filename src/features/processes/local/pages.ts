import { kPaPerPsi } from '../../../core/process/atmosphere.ts'
import type { LocalProcess } from '../../../core/process/index.ts'
import { jarSizes, packStyles, processMethods } from '../../../core/process/index.ts'
import type { UnitSystem } from '../../../core/units/index.ts'
import { mmPerInch } from '../../../core/units/index.ts'
import type { CoopWays } from '../../../web/asking.ts'
import { checkboxesField, formModel, numberField, radiosField, textareaField, textField } from '../../../web/fields.ts'
import { type Formatter, formatFor } from '../../../web/format.ts'
import type { TypedForm } from '../../../web/forms.ts'
import { aloneIn } from '../../../web/lengths.ts'
import { processesPath } from '../paths.ts'
import { jarWords, minutesText, packWords, processCaution, processMethodWords } from '../words.ts'
import { localProcessesPath, localProcessPath, localProcessWithdrawalPath, newLocalProcessPath } from './paths.ts'
import type { KeptLocalProcess } from './queries.ts'

export function localProcessesPage(processes: readonly KeptLocalProcess[], coop: CoopWays) {
  const format = formatFor(coop)
  return {
    title: 'Local processes',
    place: 'coop' as const,
    sentence: localProcessesSentence(processes),
    published: processesPath(),
    add: newLocalProcessPath(),
    processes: processes.map((one) => ({
      product: one.product,
      href: localProcessPath(one.id),
      withdrawn: one.withdrawn,
      sentence: processSentence(one, coop, format),
      facts: [
        { name: 'For altitudes', says: `${format.altitude(one.fromM)} to ${format.altitude(one.toM)}` },
        { name: 'Headspace', says: headspaceText(one.headspaceMm, coop.units, format) },
        { name: 'Added to each jar', says: one.acid === '' ? 'nothing' : one.acid },
        { name: 'Source', says: one.source },
        { name: 'Noted', says: `${one.notedBy}, ${format.date(one.notedOn)}` },
      ],
    })),
    cautions: cautionsFor(processes),
  }
}

/** "3 noted, 1 of them withdrawn"; '' for none. */
export function localProcessesSentence(processes: readonly LocalProcess[]): string {
  if (processes.length === 0) return ''
  const withdrawn = processes.filter((one) => one.withdrawn).length
  return `${processes.length} noted${withdrawn === 0 ? '' : `, ${withdrawn} of them withdrawn`}`
}

/** The form for a new process (`of` null) and for a change. */
export function localProcessFormPage(form: TypedForm, of: KeptLocalProcess | null, version: number, coop: CoopWays) {
  const alone = aloneIn(form.typed, coop.units)
  const [high, small, press] = alone === 'us' ? ['feet', 'inches', 'psi'] : ['metres', 'millimetres', 'kPa']
  return {
    title: of === null ? 'Note a local process' : `Change the process for ${of.product}`,
    place: 'coop' as const,
    action: of === null ? localProcessesPath() : localProcessPath(of.id),
    button: of === null ? 'Note it' : 'Save',
    version: String(version),
    alone,
    back: localProcessesPath(),
    withdrawal:
      of === null
        ? null
        : {
            action: localProcessWithdrawalPath(of.id),
            value: of.withdrawn ? '' : 'yes',
            button: of.withdrawn ? 'Rely on it again' : 'Withdraw it',
            says: of.withdrawn
              ? 'It is withdrawn: recipes that claim it have no tested process.'
              : 'When the authority has taken it back or replaced it, withdraw it: recipes that claim it then have no tested process. It stays readable here.',
          },
    form: formModel(
      {
        product: textField(form, { name: 'product', label: 'What it is for', hint: 'Damsons, whole, in syrup' }),
        source: textareaField(form, {
          name: 'source',
          label: 'Source',
          hint: 'The food authority, the document, its page and date',
          rows: 3,
        }),
        method: radiosField(form, {
          name: 'method',
          label: 'Heated in a',
          options: processMethods.map((value) => ({ value, text: processMethodWords[value] })),
        }),
        pack: radiosField(form, {
          name: 'pack',
          label: 'Packed as',
          options: packStyles.map((value) => ({ value, text: packWords[value] })),
        }),
        jars: checkboxesField(form, {
          name: 'jars',
          label: 'Jars it was tested for',
          options: jarSizes.map((value) => ({ value, text: jarWords[value].more })),
        }),
        fromM: textField(form, {
          name: 'fromM',
          label: 'Tested from an altitude of',
          hint: `A number alone is in ${high}`,
        }),
        toM: textField(form, { name: 'toM', label: 'Up to', hint: `A number alone is in ${high}` }),
        minutes: numberField(form, {
          name: 'minutes',
          label: 'Minutes',
          hint: 'At a full boil, in steam or at pressure',
        }),
        kPa: textField(form, {
          name: 'kPa',
          label: 'Pressure at the gauge',
          hint: `For a pressure canner only; a number alone is in ${press}`,
          optional: true,
        }),
        headspaceMm: textField(form, {
          name: 'headspaceMm',
          label: 'Headspace',
          hint: `Like “12 mm” or “1/2 in”; a number alone is in ${small}`,
        }),
        acid: textField(form, {
          name: 'acid',
          label: 'Added to each jar',
          hint: 'In the authority’s words: 1 tablespoon of bottled lemon juice for a pint',
          optional: true,
        }),
      },
      form,
    ),
  }
}

/** "25 minutes in a boiling-water canner, hot pack, in pints or quarts" */
function processSentence(process: LocalProcess, coop: CoopWays, format: Formatter): string {
  const { minutes, method, pack, jars, kPa } = process
  const at = kPa === null ? '' : ` at ${pressureText(kPa, coop.units, format)}`
  const names = jars.map((jar) => jarWords[jar].more)
  return `${minutesText(minutes)}${at} in a ${processMethodWords[method]}, ${packWords[pack]}, in ${new Intl.ListFormat('en', { type: 'disjunction' }).format(names)}`
}

/** Both units: gauges are marked in either. */
function pressureText(kPa: number, units: UnitSystem, format: Formatter): string {
  const psi = `${format.number(kPa / kPaPerPsi, 1)} psi`
  const metric = `${format.number(kPa, 1)} kPa`
  return units === 'us' ? `${psi} (${metric})` : `${metric} (${psi})`
}

function headspaceText(mm: number, units: UnitSystem, format: Formatter): string {
  const inches = `${format.number(mm / mmPerInch, 2)} in`
  const metric = `${format.number(mm, 1)} mm`
  return units === 'us' ? `${inches} (${metric})` : `${metric} (${inches})`
}

/** What stands beside processes, once for each danger. */
function cautionsFor(processes: readonly LocalProcess[]): string[] {
  return [...new Set(processes.filter((one) => !one.withdrawn).map((one) => processCaution(one.method)))]
}
