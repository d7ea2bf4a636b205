import {
  type ChoiceField,
  checkboxField,
  numberField,
  selectField,
  type TextField,
  textField,
} from '../../web/fields.ts'
import type { TypedForm } from '../../web/forms.ts'
import { jarOfPack } from './form-making.ts'
import { type Choices, isTouched, type Keep, nothing, rowsOf, withTyped } from './form-rows.ts'
import { formRows } from './forms.ts'

/** A size in which it is put up. */
export function packRow(form: TypedForm, row: number, choices: Choices, keep: Keep) {
  const at = `packs.${row}`
  const text = (name: string, label: string, hint = '', optional = true): TextField =>
    keep(textField(form, { name: `${at}.${name}`, label, hint, optional }))
  const number = (name: string, label: string, hint = '', optional = false): TextField =>
    keep(numberField(form, { name: `${at}.${name}`, label, hint, optional }))
  return {
    legend: row === 0 ? 'Put up in' : `Put up in, number ${row + 1}`,
    open: row === 0 || isTouched(form, at),
    first: row === 0,
    unit: text('unit', 'What one is called', 'quart, one-kilo bag', false),
    units: text('units', 'More than one', 'Empty: with an s'),
    jar: jarOfPack(form, at, keep),
    key: text('key', 'Short name', 'Plans know it by this; empty: made from what one is called'),
    gramsPerUnit: number('gramsPerUnit', 'Raw weight for one', 'Everything that goes in: “1.134 kg”, “2 1/2 lb”'),
    worthMinor: number('worthMinor', 'What one is worth to us', 'Like 4.50'),
    freezerMl: number('freezerMl', 'Room of one in the freezer', 'Like “1.9 l”', true),
    workPerUnit: text('workPerUnit', 'Minutes of hands for one', '“fill 2, pack 0.5”'),
    machineMinutesPerUnit: text(
      'machineMinutesPerUnit',
      'Minutes of machines for one',
      '“press 5”; not what a whole load takes',
    ),
    supplies: rowsOf(form, `${at}.supplies`, formRows.supplies).map((part) =>
      supplyRow(form, `${at}.supplies.${part}`, part, choices, keep),
    ),
    runs: rowsOf(form, `${at}.runs`, formRows.runs).map((run) => ({
      legend: run === 0 ? 'Made in loads or pots' : 'And before or after it',
      name: text(`runs.${run}.name`, run === 0 ? 'Load' : 'Second load', 'canner load, pot; empty: made one by one'),
      unitsPerRun: number(`runs.${run}.unitsPerRun`, 'How many are full', '', true),
      fillAtLeast: number(`runs.${run}.fillAtLeast`, 'How full the last one must be, percent', '', true),
      machineMinutes: text(`runs.${run}.machineMinutes`, 'Minutes of machines for a load', '“canner 60, burner 60”'),
      work: text(`runs.${run}.work`, 'Minutes of hands for a load', '“stove 8”'),
      process: keep(
        checkboxField(form, {
          name: `${at}.runs.${run}.process`,
          label: 'The tested minutes come on top',
          hint: 'For a canner load: its machine minutes are then heating up and cooling only',
        }),
      ),
    })),
    makes: {
      open: isTouched(form, `${at}.makes`),
      name: text('makes.name', 'Gives a material for other recipes', 'apple juice; empty for most'),
      gramsPerUnit: number('makes.gramsPerUnit', 'How much of it one gives', '', true),
      readyAfterDays: number('makes.readyAfterDays', 'Days before it can be used', '', true),
      keepsDays: number('makes.keepsDays', 'Days that it keeps', '', true),
    },
  }
}

function supplyRow(
  form: TypedForm,
  at: string,
  row: number,
  { supplies }: Choices,
  keep: Keep,
): { supply: ChoiceField; amount: TextField } {
  const typed = form.typed[`${at}.key`]
  const known = supplies.map(({ key, name, unit }) => ({
    value: key,
    text: unit === 'g' || unit === 'ml' ? `${name}, ${unit}` : name,
  }))
  return {
    supply: keep(
      selectField(form, {
        name: `${at}.key`,
        label: `Supply ${row + 1}`,
        options: withTyped([nothing('none'), ...known], typed),
        optional: true,
      }),
    ),
    amount: keep(
      numberField(form, { name: `${at}.amount`, label: `Amount of supply ${row + 1} for one`, optional: true }),
    ),
  }
}
