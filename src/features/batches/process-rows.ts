import { keepingOf } from '../../core/practice/keeping.ts'
import { minutesOf, minutesThatCount } from '../../core/process/record.ts'
import type { Formatter } from '../../web/format.ts'
import { minutesText, packWords, processMethodWords, sourceText } from '../processes/index.ts'
import type { Batch } from './queries.ts'
import { wentWords } from './words.ts'

type Row = { name: string; says: string }

/** The process record for eyes and paper; what nobody noted says so. */
export function processRows({ process }: Pick<Batch, 'process'>, format: Formatter): Row[] {
  if (process === null) return []
  const { due, seals } = process
  const instant = (at: string | number | null) => (at === null ? 'not noted' : format.instant(dateOf(at)))
  const noted = (value: number | null, unit: string) =>
    value === null ? 'not noted' : `${format.number(value, 1)} ${unit}`
  const given =
    process.reachedAt === null || process.endedAt === null
      ? null
      : minutesThatCount({ ...process, reachedAt: process.reachedAt, endedAt: process.endedAt })
  const pressed = process.method === 'dial-gauge' || process.method === 'weighted-gauge'
  const dueMinutes = due === null ? 'no tested process is known' : `${minutesText(due.minutes)} were due`
  return [
    {
      name: 'Heated in',
      says: `${processMethodWords[process.method]}${process.canner === '' ? '' : `, ${process.canner}`}`,
    },
    {
      name: 'Minutes that count',
      says: `${given === null ? 'not noted' : minutesText(Math.floor(given))}; ${dueMinutes}`,
    },
    { name: 'Reached', says: instant(process.reachedAt) },
    { name: 'Heat off', says: instant(process.endedAt) },
    ...process.interruptions.map(({ lostAt, reachedAgainAt }) => ({
      name: 'Lost',
      says: `${instant(lostAt)}, ${reachedAgainAt === null ? 'not reached again' : `back ${instant(reachedAgainAt)}`}`,
    })),
    ...(pressed
      ? [
          {
            name: 'Lowest pressure',
            says: `${noted(process.lowestKPa, 'kPa')}${due?.kPa == null ? '' : `; ${format.number(due.kPa, 1)} kPa were due`}`,
          },
          { name: 'Vented', says: process.ventedMinutes === null ? 'not noted' : minutesText(process.ventedMinutes) },
        ]
      : []),
    { name: 'Altitude', says: format.altitude(process.altitudeM) },
    { name: 'Packed', says: process.pack === null ? 'not said' : packWords[process.pack] },
    { name: 'Headspace', says: noted(process.headspaceMm, 'mm') },
    { name: 'Acid', says: acidWords(process.acidAdded, due?.acid ?? '') },
    { name: 'Watched by', says: process.by.length === 0 ? 'not noted' : process.by.join(', ') },
    {
      name: 'Seals',
      says:
        seals === null
          ? 'not tried yet: try them after 12 to 24 hours'
          : `${seals.sealed} sealed, tried ${instant(seals.checkedAt)} by ${seals.by || 'nobody named'}`,
    },
    ...(due === null ? [] : [{ name: 'By', says: due.source }]),
  ]
}

/** What became of jars that did not seal; '' where all did, as far as it is known. */
export function unsealedWords({ process, method }: Pick<Batch, 'process' | 'method'>): string {
  const went = process?.seals?.notSealed ?? []
  return went
    .map(({ jars, went: where }) => {
      const many = `${jars} ${jars === 1 ? 'jar' : 'jars'} did not seal: ${wentWords[where]}.`
      if (where !== 'refrigerated') return many
      const acidity = method === 'pressure-canned' ? 'low' : 'high'
      const life = keepingOf(`canned food of ${acidity} acid`, 'refrigerator', true)
      return life === null ? many : `${many} Eat them within ${life.days[0]} days (${sourceText(life.source)}).`
    })
    .join(' ')
}

function acidWords(added: boolean, due: string): string {
  if (due === '') return added ? 'added' : 'none was due'
  return `${due} in each jar were due; ${added ? 'noted as added' : 'not noted as added'}`
}

function dateOf(at: string | number): Date {
  return new Date((minutesOf(at) ?? Number.NaN) * 60_000)
}
