import type { CoopWays } from '../../../web/asking.ts'
import { beam } from '../../../web/beam.ts'
import { type Formatter, formatFor } from '../../../web/format.ts'
import { productPattern } from '../../../web/patterns.ts'
import { shelfProductPath } from '../../shelf/paths.ts'
import type { StoredAnswer } from '../documents.ts'
import {
  dropShareOutPath,
  handOutPath,
  newShareOutPath,
  pickingListPath,
  sharesPath,
  undoHandOutPath,
} from '../paths.ts'
import { ruleSentence } from '../rule/pages.ts'
import { owedWords } from '../standing/pages.ts'
import { methodWords } from '../words.ts'
import type { ShareOut } from './queries.ts'
import { productSums } from './sums-page.ts'

/** One sharing out to read: who gets what, the sums, and what can be done. `trouble`: why something was not done. */
export function shareOutPage(shareOut: ShareOut, trouble: string, coop: CoopWays) {
  const format = formatFor(coop)
  const { id, name, state, by, at, handedOutAt, question, answer } = shareOut
  const names = new Map(question.households.map((household) => [household.id, household.name]))
  const asked = new Map(question.products.map((product) => [product.id, product]))
  const given = question.households.flatMap((household) => {
    const share = answer.households.find((one) => one.id === household.id)
    return share === undefined ? [] : [{ ...household, share }]
  })
  const jarsOf = (units: Record<string, number>) => Object.values(units).reduce((sum, many) => sum + many, 0)
  const left = answer.products.filter((product) => product.left > 0)
  return {
    title: name,
    place: 'shelf' as const,
    trouble,
    sentence: sentence(shareOut, format),
    state: stateSentence(shareOut, format),
    beam: shareBeam(given, format),
    rows: given.map(({ id: household, name, share }) => ({
      name,
      jars: format.number(jarsOf(share.units)),
      what: Object.entries(share.units)
        .map(([product, many]) => `${format.number(many)} ${asked.get(product)?.name ?? product}`)
        .sort((a, b) => a.slice(a.indexOf(' ')).localeCompare(b.slice(b.indexOf(' ')), coop.locale))
        .join(', '),
      worth: format.money(share.received),
      before: owedWords(share.owedBefore, format),
      after: owedWords(share.owed, format),
      list: pickingListPath(id, household),
    })),
    left: left.map(({ id: product, left }) => {
      const { recipeId = '', pack = '', name = '', unit = '', unitsName = '' } = asked.get(product) ?? {}
      return { text: `${name}: ${format.count(left, unit, unitsName)}`, href: shelfProductPath(recipeId, pack) }
    }),
    ruleSentence: ruleSentence(question.rule, coop),
    method: methodWords[question.rule.method],
    counted: `Counted ${question.from === null ? 'from the beginning' : `from ${format.date(question.from)}`} until ${format.date(question.until)}.`,
    due: given.map(({ name, grams, minutes, moneyMinor, points, people, share, declines }) => ({
      name,
      brought: [
        grams === 0 ? '' : format.weight(grams),
        minutes === 0 ? '' : format.duration(minutes),
        moneyMinor === 0 ? '' : format.money(moneyMinor),
      ]
        .filter((part) => part !== '')
        .join(', '),
      points: format.number(points, 2),
      people: format.number(people),
      part: format.percent(share.partByPoints + share.partByNeed),
      entitled: format.money(share.entitled),
      before: format.money(share.owedBefore),
      claim: format.money(share.owedBefore + share.entitled),
      received: format.money(share.received),
      after: format.money(share.owed),
      declines: declines.map((product) => asked.get(product)?.name ?? product).join(', '),
    })),
    products: answer.products.flatMap(({ id: product, apportionment }) => {
      const of = asked.get(product)
      return of === undefined ? [] : [productSums(of, apportionment, names, format)]
    }),
    picking: pickingListPath(id),
    handOut: state === 'proposed' ? handOutPath(id) : '',
    drop: state === 'proposed' ? dropShareOutPath(id) : '',
    again: state === 'handed-out' ? '' : newShareOutPath({ like: id }),
    undo: state === 'handed-out' ? undoHandOutPath(id) : '',
    asked: `Worked out by ${by}, ${format.instant(at)}${handedOutAt === null ? '' : `; handed out ${format.instant(handedOutAt)}`}.`,
    back: sharesPath(),
  }
}

function sentence({ question, answer }: ShareOut, format: Formatter): string {
  const jars = question.products.reduce((sum, { units }) => sum + units, 0)
  const left = answer.products.reduce((sum, product) => sum + product.left, 0)
  const worth = answer.households.reduce((sum, { entitled }) => sum + entitled, 0)
  const most = Math.max(...answer.households.map(({ owed }) => Math.abs(owed)))
  const stays =
    left === 0
      ? ''
      : ` ${format.count(left, 'jar')} that nobody wants ${left === 1 ? 'stays' : 'stay'} in shared stock.`
  const near =
    most === 0
      ? 'Everybody gets exactly their part.'
      : `Nobody is further from their part than ${format.money(most)}, which counts the next time.`
  return `${format.count(jars - left, 'jar')} worth ${format.money(worth)} for ${format.count(answer.households.length, 'household')}.${stays} ${near}`
}

function stateSentence({ state, handedOutAt }: ShareOut, format: Formatter): string {
  if (state === 'proposed') return 'This is a proposal: the jars still stand in shared stock.'
  if (state === 'dropped') return 'This proposal was dropped: nothing of it was handed out.'
  return `Handed out ${handedOutAt === null ? '' : format.instant(handedOutAt)}: the jars belong to their households.`
}

/** Worth by household, or jars where they count for nothing; null for neither. */
function shareBeam(given: { name: string; share: StoredAnswer['households'][number] }[], format: Formatter) {
  const byWorth = given.some(({ share }) => share.received > 0)
  const segments = given.map(({ name, share }, n) => {
    const jars = Object.values(share.units).reduce((sum, many) => sum + many, 0)
    return {
      label: name,
      amount: byWorth ? share.received : jars,
      text: format.count(jars, 'jar'),
      pattern: productPattern(n),
    }
  })
  const whole = segments.reduce((sum, { amount }) => sum + amount, 0)
  const title = byWorth ? 'Who gets how much, by worth' : 'Who gets how much, by jars'
  return whole === 0 ? null : beam({ id: 'shares', title, whole, segments })
}
