import type { CoopWays } from '../../../web/asking.ts'
import { beam } from '../../../web/beam.ts'
import { type Formatter, formatFor } from '../../../web/format.ts'
import { productPattern } from '../../../web/patterns.ts'
import { lotTitle } from '../../lots/index.ts'
import { lotPath } from '../../lots/paths.ts'
import { shelfPath } from '../../shelf/paths.ts'
import { newShareOutPath, shareOutPath, shareRulePath, sharesPath } from '../paths.ts'
import type { ShareOutRow } from '../proposals/queries.ts'
import { ruleSentence } from '../rule/pages.ts'
import { stateWords } from '../words.ts'
import type { HouseholdStanding, StandingNow } from './standing.ts'

/** So many lots of a household are named; the others are added up. */
const LOTS_SHOWN = 20
/** So many sharings out are on a page. */
export const SHARE_OUTS_PER_PAGE = 20

/** What households brought and are due. `shareOuts` may be one more than a page has. */
export function sharesPage(
  { rule, period, households }: StandingNow,
  { shareOuts, since, wrongSince }: { shareOuts: ShareOutRow[]; since: string; wrongSince: string },
  coop: CoopWays,
) {
  const format = formatFor(coop)
  const shown = shareOuts.slice(0, SHARE_OUTS_PER_PAGE)
  const last = shareOuts.length > shown.length ? shown.at(-1) : undefined
  const owing = households.some(({ owedMinor }) => owedMinor !== 0)
  return {
    title: 'Shares',
    place: 'shelf' as const,
    sentence: sentence(households, period, format),
    ruleSentence: ruleSentence(rule, coop),
    agreed: rule.version > 0,
    rule: shareRulePath(),
    beam: pointsBeam(households, format),
    action: sharesPath(),
    since,
    wrongSince,
    sinceLast: since === '' ? '' : sharesPath(),
    rows: households.map((one) => ({
      name: one.name,
      produce: format.weight(one.grams),
      work: format.duration(one.minutes),
      money: format.money(one.moneyMinor),
      points: format.number(one.points, 1),
      people: format.number(one.people),
      part: one.part === null ? '' : format.percent(one.part),
      owed: owedWords(one.owedMinor, format),
    })),
    owing,
    lots: households
      .filter(({ lots }) => lots.length > 0)
      .map(({ name, lots }) => ({
        name: `${name}: ${format.count(lots.length, 'lot')}`,
        rows: lots.slice(0, LOTS_SHOWN).map((lot) => ({
          href: lotPath(lot.id),
          text: lotTitle(lot),
          says:
            lot.priceMinor === null
              ? `${format.weight(lot.grams)}, ${format.day(lot.arrivedOn)}`
              : `paid ${format.money(lot.priceMinor)}, ${format.day(lot.arrivedOn)} (counts by the price, not by its ${format.weight(lot.grams)} too)`,
        })),
        more:
          lots.length > LOTS_SHOWN ? `and ${format.count(lots.length - LOTS_SHOWN, 'later lot')}, counted as well` : '',
      })),
    add: newShareOutPath(since === '' || wrongSince !== '' ? {} : { since }),
    shareOuts: shown.map(({ id, name, state, at, by, handedOutAt }) => ({
      href: shareOutPath(id),
      name,
      state: stateWords[state],
      when: format.instant(handedOutAt ?? at),
      by,
    })),
    older: last === undefined ? '' : `${sharesPath()}?before=${last.number}`,
    back: shelfPath(),
  }
}

/** "is owed £1.20", "had £1.20 too much", "nothing" */
export function owedWords(minor: number, format: Formatter): string {
  if (minor === 0) return 'nothing'
  return minor > 0 ? `is owed ${format.money(minor)}` : `had ${format.money(-minor)} too much`
}

function sentence(households: HouseholdStanding[], { from }: StandingNow['period'], format: Formatter): string {
  const sum = (of: (one: HouseholdStanding) => number) => households.reduce((total, one) => total + of(one), 0)
  const since = from === null ? 'So far' : `Since ${format.date(from)}`
  const grams = sum(({ grams }) => grams)
  const minutes = sum(({ minutes }) => minutes)
  const money = sum(({ moneyMinor }) => moneyMinor)
  const who = format.count(households.length, 'household')
  if (grams + minutes + money === 0) return `${since}, nothing that counts was brought by any of ${who}.`
  return `${since}, ${who} brought ${format.weight(grams)} of produce, ${format.duration(minutes)} of work and ${format.money(money)}: ${format.number(
    sum(({ points }) => points),
    1,
  )} points.`
}

/** Points by household; null where nobody has any. Tenths of points, so that the parts are whole. */
function pointsBeam(households: HouseholdStanding[], format: Formatter) {
  const segments = households.map(({ name, points }, n) => ({
    label: name,
    amount: Math.round(points * 10),
    text: `${format.number(points, 1)} points`,
    pattern: productPattern(n),
  }))
  const whole = segments.reduce((sum, { amount }) => sum + amount, 0)
  return whole === 0 ? null : beam({ id: 'points', title: 'Points by household', whole, segments })
}
