import { type Condition, daysBetween, ripenessClasses } from '../../core/produce/index.ts'
import type { Formatter } from '../../web/format.ts'
import { ripeningPlot } from '../../web/line.ts'
import type { Lot } from './lot.ts'
import { classWords, storageWords } from './names.ts'
import { type ComingDay, comingDays, type Standing } from './standing.ts'

/** So many days are drawn one by one; what keeps longer goes on week by week in the table. */
const daysDrawn = 14
const mostRows = 40

/** The forecast of a lot from today on, as a plot and as a table, until nothing is left of use. */
export function forecastOf(lot: Lot, standing: Standing, format: Formatter) {
  const days = comingDays(lot, standing.on, offsetsOf(standing))
  const drawn = days.slice(0, daysDrawn + 1)
  return {
    plot: ripeningPlot({
      id: 'forecast',
      title: `Forecast ${storageWords[lot.storage].where}`,
      finding: findingOf(days, format),
      unit: 'kg',
      days: drawn.map(({ date, grams }) => ({
        label: axisLabel(date, format),
        words: dayInWords(date, grams, format),
      })),
      layers: ([...ripenessClasses, 'lost'] as const).map((name) => ({
        label: name === 'lost' ? 'lost' : classWords[name].name,
        pattern: name,
        values: drawn.map(({ grams }) => grams[name] / 1000),
      })),
    }),
    caption: `On each morning, ${storageWords[lot.storage].where}`,
    rows: days.map(({ date, grams }) => ({
      day: format.day(date),
      firm: format.weight(grams.firm),
      ripe: format.weight(grams.ripe),
      soft: format.weight(grams.soft),
      damaged: format.weight(grams.damaged),
      lost: format.weight(grams.lost),
    })),
  }
}

/** Days after today: one by one for a fortnight, then by the week, up to and with the first morning on which all is lost. */
function offsetsOf({ on, lastUseBy }: Standing): number[] {
  const end = lastUseBy === null ? 1 : daysBetween(on, lastUseBy) + 1
  const daily = Array.from({ length: Math.min(end, daysDrawn) + 1 }, (_, day) => day)
  const weekly: number[] = []
  for (let day = daysDrawn + 7; day < end; day += 7) weekly.push(day)
  return [...new Set([...daily, ...weekly, end])].slice(0, mostRows)
}

/** "Left as it is, 12 kg are still of use on Wed 2 Dec; 3.1 kg more are lost by then." */
function findingOf(days: readonly ComingDay[], format: Formatter): string {
  const [today, ...later] = days
  const at = later[Math.min(6, later.length - 1)]
  if (today === undefined || at === undefined) return 'Nothing changes.'
  const lost = at.grams.lost - today.grams.lost
  const left = ripenessClasses.reduce((sum, name) => sum + at.grams[name], 0)
  return `Left as it is, ${format.weight(left)} are still of use on ${format.day(at.date)}; ${format.weight(lost)} more are lost by then.`
}

function dayInWords(date: string, grams: Record<Condition, number>, format: Formatter): string {
  const parts = ([...ripenessClasses, 'lost'] as const)
    .filter((name) => grams[name] > 0)
    .map((name) => `${format.weight(grams[name])} ${name}`)
  return `${format.day(date)}: ${parts.join(', ')}`
}

/** "Sat 12" of "Sat, Sep 12" or "Sat 12 Sep" */
function axisLabel(date: string, format: Formatter): string {
  const weekday = format.day(date).split(/[\s,]+/)[0] ?? ''
  return `${weekday} ${Number(date.slice(8))}`
}
