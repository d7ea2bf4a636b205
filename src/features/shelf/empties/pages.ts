import { jarSizes } from '../../../core/process/index.ts'
import type { CoopWays } from '../../../web/asking.ts'
import { formModel, numberField, selectField } from '../../../web/fields.ts'
import { formatFor } from '../../../web/format.ts'
import type { TypedForm } from '../../../web/forms.ts'
import { jarWords } from '../../processes/index.ts'
import { newSupplyPath } from '../../supplies/paths.ts'
import { emptiesPath, ledgerPath, shelfPath } from '../paths.ts'
import type { Empties } from './queries.ts'

export type EmptiesFacts = {
  empties: Empties[]
  households: { id: string; name: string }[]
  supplies: { jar: string; name: string }[]
}

export function emptiesPage(form: TypedForm, { empties, households, supplies }: EmptiesFacts, coop: CoopWays) {
  const format = formatFor(coop)
  const rows = households.flatMap(({ id, name }) =>
    empties
      .filter(({ householdId }) => householdId === id)
      .sort((a, b) => order(a.jar) - order(b.jar))
      .map(({ jar, got, returned }) => ({
        household: name,
        href: ledgerPath(id),
        jar: jarName(jar),
        got: format.number(got),
        returned: format.number(returned),
        owes:
          got > returned
            ? format.number(got - returned)
            : got < returned
              ? `none, ${format.number(returned - got)} more came`
              : 'none',
      })),
  )
  const owed = empties.reduce((sum, { got, returned }) => sum + Math.max(0, got - returned), 0)
  return {
    title: 'Empty jars',
    place: 'shelf' as const,
    sentence:
      owed === 0 ? 'Every jar is back.' : `${format.count(owed, 'jar is', 'jars are')} with households, full or empty.`,
    rows,
    action: emptiesPath(),
    noJars: supplies.length === 0,
    addSupply: newSupplyPath(),
    back: shelfPath(),
    form: formModel(
      {
        householdId: selectField(form, {
          name: 'householdId',
          label: 'Who brings them back',
          options: [{ value: '', text: 'Choose' }, ...households.map(({ id, name }) => ({ value: id, text: name }))],
        }),
        jar: selectField(form, {
          name: 'jar',
          label: 'Which jars',
          options: [{ value: '', text: 'Choose' }, ...supplies.map(({ jar, name }) => ({ value: jar, text: name }))],
        }),
        units: numberField(form, { name: 'units', label: 'How many' }),
      },
      form,
    ),
  }
}

function jarName(jar: string): string {
  const size = jarSizes.find((one) => one === jar)
  return size === undefined ? jar : jarWords[size].more
}

function order(jar: string): number {
  const sizes: readonly string[] = jarSizes
  const place = sizes.indexOf(jar)
  return place < 0 ? jarSizes.length : place
}
