import { triesFor, type WithoutGain, type WorthOfHelp, weighHelps } from '../../../../core/agreement/index.ts'
import type { Question } from '../../../../core/division/index.ts'
import type { WorkedOut } from '../../../../jobs/timetable.ts'
import type { CoopWays } from '../../../../web/asking.ts'
import { formatFor } from '../../../../web/format.ts'
import { divisionPath, planPath, stopTimetableWorthPath, timetablePath, timetableWorthPath } from '../../paths.ts'
import { listed, sentence } from '../../words.ts'
import type { TimetableRow } from '../queries.ts'
import { helpsTried, isWhole, type WorthAnswer } from './documents.ts'
import type { WorthRow } from './queries.ts'
import { type HelpWords, helpWords } from './words.ts'

const place = 'plans' as const

/** The button on a timetable's page: where it leads and what it says. */
export function worthOffer(row: TimetableRow, worked: WorkedOut): { action: string; text: string } {
  return { action: timetableWorthPath(row.planId, row.number), text: gaveWay(row, worked) ? whenItGave : whenItHeld }
}

const whenItHeld = 'What would help most'
const whenItGave = 'What would have saved it'

/** Wishes gave way to the clock. */
function gaveWay({ fittedFrom }: TimetableRow, { gave }: WorkedOut): boolean {
  return fittedFrom !== null || gave.length > 0
}

/** Where nothing has been tried: what the button does. After a failure it says what happened. */
export function askWorthPage(row: TimetableRow, worked: WorkedOut, worth: WorthRow | null) {
  return {
    ...heading(row, worked),
    failure: worth?.state === 'failed' ? (worth.failure ?? 'It could not be worked out.') : '',
    stopped: worth?.state === 'done',
  }
}

/** What has been tried so far: while it goes on, and when it is done. */
export function worthPage(row: TimetableRow, worked: WorkedOut, worth: WorthRow, question: Question, coop: CoopWays) {
  const { state, answer } = worth
  const working = state === 'waiting' || state === 'solving'
  const words = helpWords(question, coop)
  return {
    ...heading(row, worked),
    working,
    waits: state === 'waiting',
    stop: stopTimetableWorthPath(row.planId, row.number),
    failure: state === 'failed' ? (worth.failure ?? 'It broke off.') : '',
    gave: gaveSentence(worked, words),
    ...(answer === null ? nothingTried : tried(answer, words, { working, gave: gaveWay(row, worked) })),
    asked: `Asked by ${worth.askedBy}, ${formatFor(coop).instant(worth.startedAt)}.`,
  }
}

function tried(answer: WorthAnswer, words: HelpWords, { working, gave }: { working: boolean; gave: boolean }) {
  const weighed = weighHelps(answer.before, answer.tries)
  const [done, of] = [helpsTried(answer), answer.candidates.length]
  return {
    progress: { done, of, says: `${done} of ${of} tried` },
    best: working ? '' : bestSentence(weighed, words, gave),
    rows: weighed.helps.map((one) => ({
      help: sentence(words.help(one.help)),
      worth: words.money(one.gain),
      makes: words.changes(one),
      ends: words.ends(one),
    })),
    sooner: soonerSentence(weighed.without, words),
    without: withoutSentence(weighed.without, words),
    late: lateSentence(weighed.without, words),
    counted: countedSentences(weighed, words),
    left: isWhole(answer) ? '' : leftSentence(answer, words),
  }
}

const nothingTried: Omit<ReturnType<typeof tried>, 'progress'> & { progress: null } = {
  progress: null,
  best: '',
  rows: [],
  sooner: '',
  without: '',
  late: '',
  counted: [],
  left: '',
}

function heading(row: TimetableRow, worked: WorkedOut) {
  const { action, text } = worthOffer(row, worked)
  return {
    title: `${text}: ${row.planName}, timetable ${row.number}`,
    place,
    here: action,
    text,
    timetable: { text: `timetable ${row.number}`, href: timetablePath(row.planId, row.number) },
    division: { text: `division ${row.divisionNumber}`, href: divisionPath(row.planId, row.divisionNumber) },
    plan: { name: row.planName, href: planPath(row.planId) },
  }
}

function bestSentence({ helps }: WorthOfHelp, words: HelpWords, gave: boolean): string {
  const [best] = helps
  if (!best) return 'Nothing of what was tried brings more than the search can tell.'
  const does = gave ? 'would have saved most' : 'would help most'
  const makes = words.changes(best)
  const what = makes.length === 0 ? '' : `: ${listed(makes)}`
  return sentence(`${words.help(best.help)} ${does}, worth ${words.money(best.gain)} more to this plan${what}.`)
}

/** What the clock took; empty: nothing. */
function gaveSentence({ gave }: WorkedOut, { names }: HelpWords): string {
  const told = gave
    .filter(({ before, after }) => before !== after)
    .map(({ productId, before, after }) => `${names.product(productId).name} ${after} instead of ${before}`)
  return told.length === 0 ? '' : `What gave way to the clock: ${told.join('; ')}.`
}

/** What is worth no more for sure but saves hours. */
function soonerSentence(without: readonly WithoutGain[], words: HelpWords): string {
  const told = without
    .filter(isSooner)
    .sort((a, b) => b.minutesSaved - a.minutesSaved)
    .map((one) => `${words.help(one.help)} (${words.ends(one)})`)
  return told.length === 0 ? '' : `Worth no less, and the work on the produce ends earlier: ${told.join('; ')}.`
}

/** A search for timetables that stopped a little sooner or later is no saving. Our choice. */
const leastMinutesSaved = 15

function isSooner({ why, gain, minutesSaved }: WithoutGain): boolean {
  // less than half a minor unit is no loss
  return why !== 'late' && gain > -0.5 && minutesSaved >= leastMinutesSaved
}

function withoutSentence(without: readonly WithoutGain[], words: HelpWords): string {
  const told = without
    .filter((one) => one.why !== 'late' && !isSooner(one))
    .map(({ help, why, gain }) =>
      why === 'unsure' ? `${words.help(help)} (perhaps ${words.money(gain)})` : words.help(help),
    )
  return told.length === 0 ? '' : `Tried and of no worth beyond what the search can tell: ${told.join('; ')}.`
}

function lateSentence(without: readonly WithoutGain[], words: HelpWords): string {
  const told = without.filter(({ why }) => why === 'late').map(({ help }) => words.help(help))
  return told.length === 0 ? '' : `Tried, and no division was found that the clock holds: ${told.join('; ')}.`
}

/** What the figures are, and what they are not. */
function countedSentences({ from, foundAgain, mayBeMissing }: WorthOfHelp, { money }: HelpWords): string[] {
  return [
    'A figure is what this one plan gains, before the price of the thing itself. It goes by your wishes: a recipe’s worth counts half, once or twice as the wish matters a little, fairly or very much; packs to buy, spoilage and what outlets pay are in it. What was settled by hand in a timetable is not.',
    mayBeMissing === null
      ? 'How far the division is from the best possible is not known, so no gain can be told for sure.'
      : mayBeMissing === 0
        ? 'The division was proved best within what its timetable holds, so a gain is no accident of the search for divisions. What the search for timetables may have missed is not counted.'
        : `Without any help the division may be short of the best by up to ${money(mayBeMissing)}: only a larger gain is in the table. What the search for timetables may have missed is not counted.`,
    ...(foundAgain > 0
      ? [
          `Looked for again without any help, ${money(foundAgain)} more was found: gains are counted from there. Making the timetable again may bring that much.`,
        ]
      : []),
    ...(foundAgain < 0
      ? [
          'This timetable does not hold all that its division makes; gains are counted from one found again that the clock holds.',
        ]
      : []),
    ...(from.holds
      ? []
      : ['The clock does not hold all of what the gains are counted from, so they are rather too small.']),
  ]
}

function leftSentence({ candidates, tries }: WorthAnswer, words: HelpWords): string {
  const left = triesFor(candidates)
    .slice(tries.length)
    .flatMap((one) => (one === null ? [] : [words.help(one)]))
  return left.length === 0 ? 'Not looked for once more without any help.' : `Not tried yet: ${left.join('; ')}.`
}
