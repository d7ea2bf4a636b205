import { crops } from '../../../core/produce/index.ts'
import { fold } from '../../../core/units/index.ts'
import type { TransactionClient } from '../../../db/transaction.ts'
import type { Asking } from '../../../web/asking.ts'
import { formatFor } from '../../../web/format.ts'
import { listHouseholds } from '../../helpers/queries.ts'
import { classWords, type Intake, intakeReader, lotName, storageWords, takeInMany } from '../../lots/index.ts'
import type { Line } from './lines.ts'
import { knownLots } from './queries.ts'
import { byName, fault, type Step, type Steps } from './step.ts'

/** What stands for a cell that says nothing, as in the form of a new lot. */
const assumed = { ripeness: 'ripe', storage: 'room', source: 'donated' } as const

const cropsByName = byName(crops, ({ key, singular, plural }) => [key, singular, plural])

/**
 * What each line of a table of lots would do: take a lot in, as the form of a new lot does, or nothing where the column
 * "lot" names one that is here.
 */
export async function lotSteps(
  prisma: TransactionClient,
  asking: Asking,
  lines: readonly Line[],
  today: string,
): Promise<Steps> {
  const households = byName(await listHouseholds(prisma, asking), ({ name }) => [name])
  const known = await knownLots(
    prisma,
    asking,
    lines.flatMap(({ cells }) => (cells['lot'] ? [cells['lot']] : [])),
  )
  const format = formatFor(asking.coop)
  const intakes: Intake[] = []
  const readIntake = intakeReader(today)
  const steps = lines.map(({ line, cells }): Step => {
    const cell = (name: string) => cells[name] ?? ''
    if (known.has(cell('lot'))) return { line, kind: 'none', says: 'This lot is here already and stays as it is.' }
    const household = households.get(fold(cell('household')))
    if (cell('household') !== '' && household === undefined)
      return fault(line, `No household here is called “${cell('household')}”.`)
    const crop = cropsByName.get(fold(cell('crop')))
    if (crop === undefined) return fault(line, `“${cell('crop')}” is no crop that is known here.`)
    const form = readIntake({
      crop: crop.key,
      variety: cell('variety'),
      weight: cell('weight'),
      class: cell('ripeness').toLowerCase() || assumed.ripeness,
      storage: cell('storage').toLowerCase() || assumed.storage,
      source: cell('source').toLowerCase() || assumed.source,
      broughtBy: cell('brought by') || asking.name,
      householdId: household?.id ?? '',
      arrivedOn: cell('came in on'),
      priceMinor: cell('price'),
      note: cell('note'),
    })
    if (!form.ok) return fault(line, `${Object.values(form.errors).join('. ')}.`)
    const { values } = form
    intakes.push(values)
    return {
      line,
      kind: 'change',
      says: `Takes in ${format.weight(values.weightGrams)} of ${lotName(values)}, ${classWords[values.class].name}, ${storageWords[values.storage].where}, brought by ${values.broughtBy} on ${format.date(values.arrivedOn)}.`,
    }
  })
  return { steps, write: (writing) => takeInMany(writing, intakes) }
}
