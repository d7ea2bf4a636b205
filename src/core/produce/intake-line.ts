import { massAt } from '../units/mass.ts'
import type { ReadingRefusal, Weight } from '../units/readings.ts'
import { fold, type Token, tokenize } from '../units/tokens.ts'
import type { Crop } from './crop.ts'
import type { LotSource, RipenessClass, Storage } from './vocabulary.ts'

/** What a typed line says about a lot. What it does not say is absent; `notUnderstood` is the rest of the text, '' if none. */
export type IntakeLine = {
  weight?: Weight
  /** Why a weight that seemed meant could not be read, such as a lug of a crop without a figure. */
  weightRefusal?: ReadingRefusal
  /** Key of the crop. */
  crop?: string
  source?: LotSource
  /** Who or where it came from, as typed, without "'s trees". */
  broughtBy?: string
  class?: RipenessClass
  storage?: Storage
  notUnderstood: string
}

/** The longest line that is read; the rest of a longer one is handed back as not understood. */
const longestLine = 500

/**
 * Reads one line as people jot it down: "2 bushels damsons from Mara's trees, soft", "90 kg apples bought from Tarn
 * Orchard, cellar", "gleaned 12½ lb blackberries". Order is free. The crop is looked for first, among `knownCrops`, because
 * bushels and pieces weigh by crop; the longest name wins, then the first. A word with a capital inside the line is taken for
 * part of a name ("Green Lane Farm"), not for a class or a place. Nothing is refused: what is not understood comes back as text.
 */
export function readIntakeLine(text: string, knownCrops: readonly Crop[]): IntakeLine {
  const line = new Line(text.slice(0, longestLine))
  const read: Omit<IntakeLine, 'notUnderstood'> = {}
  const crop = takeCrop(line, knownCrops)
  if (crop !== undefined) read.crop = crop.key
  takeWeight(line, crop, read)
  const ripeness = takePhrase(line, classPhrases)
  if (ripeness !== undefined) read.class = ripeness
  const storage = takePhrase(line, storagePhrases)
  if (storage !== undefined) read.storage = storage
  takeOrigin(line, read)
  return { ...read, notUnderstood: `${line.rest()} ${text.slice(longestLine)}`.trim() }
}

const sourcePhrases = phrases<LotSource>([
  ['donated', ['donated', 'donation', 'gift', 'given', 'a gift']],
  ['bought', ['bought', 'purchased', 'bulk order', 'ordered']],
  [
    'own-trees',
    ['own trees', 'own tree', 'own garden', 'our trees', 'our own trees', 'our garden', 'own orchard', 'our orchard'],
  ],
  ['gleaned', ['gleaned', 'gleaning', 'windfall', 'windfalls', 'picked up']],
])
const classPhrases = phrases<RipenessClass>([
  ['firm', ['firm', 'hard', 'unripe', 'underripe', 'green']],
  ['ripe', ['ripe', 'ready']],
  ['soft', ['soft', 'overripe', 'very ripe']],
  ['damaged', ['damaged', 'bruised', 'split', 'dented']],
])
const storagePhrases = phrases<Storage>([
  ['room', ['room', 'kitchen', 'porch', 'counter', 'at room temperature', 'room temperature']],
  ['cool', ['cool', 'cellar', 'basement', 'root cellar']],
  ['cold', ['cold', 'cold room', 'cold store', 'fridge', 'refrigerator', 'chilled']],
])
/** Words that belong to a place and say nothing by themselves: "in the cellar". */
const placeLeaders: ReadonlySet<string> = new Set(['in', 'the', 'on', 'our', 'kept', 'stored', 'at', 'a', 'an'])
/** "Mara's trees": what a person's own produce grew on. */
const grownOn: ReadonlySet<string> = new Set([
  'tree',
  'trees',
  'garden',
  'orchard',
  'hedge',
  'allotment',
  'bushes',
  'plot',
])
/** Words that end the name of who brought something. */
const endsName: ReadonlySet<string> = new Set(['in', 'on', 'at', 'kept', 'stored'])

/** A line of tokens of which some have been understood and taken. */
class Line {
  readonly tokens: Token[]
  private readonly text: string
  private readonly taken: boolean[]

  constructor(text: string) {
    this.text = text
    this.tokens = tokenize(text)
    this.taken = this.tokens.map(() => false)
  }

  take(from: number, to: number): void {
    this.taken.fill(true, from, to)
  }

  /** The word at an index, or undefined if it is no word or has been taken. */
  word(at: number): string | undefined {
    const token = this.tokens[at]
    return token?.kind === 'word' && this.taken[at] === false ? token.word : undefined
  }

  /** Where some words stand one after another, or -1. */
  find(words: readonly string[]): number {
    return this.tokens.findIndex((_, at) => words.every((word, index) => this.word(at + index) === word))
  }

  /** Whether a word inside the line begins with a capital. */
  isCapital(at: number): boolean {
    const first = this.text.charAt(this.tokens[at]?.start ?? 0)
    return at > 0 && first !== first.toLowerCase()
  }

  /** Whether a word is a possessive: "Mara's", "the Novaks'". */
  isOwned(at: number): boolean {
    const token = this.tokens[at]
    return (
      token?.kind === 'word' &&
      /s$/.test(token.word) &&
      /['\u2019\u02bc]/.test(this.text.slice(token.start, token.end + 1))
    )
  }

  /** Whether a minus sign touches the number at an index; with a space between it is a dash ("plums - 3 kg"). */
  isNegative(at: number): boolean {
    const [before, token] = [this.tokens[at - 1], this.tokens[at]]
    return (
      token?.kind === 'number' && before?.kind === 'sign' && /[-\u2212]/.test(before.sign) && before.end === token.start
    )
  }

  /** The apostrophe of "the Novaks' garden" stands alone, since no letter follows it. */
  isApostrophe(at: number): boolean {
    const token = this.tokens[at]
    return token?.kind === 'sign' && /['\u2019\u02bc]/.test(token.sign)
  }

  slice(from: number, to: number): string {
    const first = this.tokens[from]
    const last = this.tokens[to - 1]
    return first === undefined || last === undefined ? '' : this.text.slice(first.start, last.end)
  }

  /** What nobody took, in order; signs and small words that only join do not count. */
  rest(): string {
    const left = this.tokens.filter((token, at) => this.taken[at] === false && token.kind !== 'sign')
    const says = left.some((token) => token.kind !== 'word' || !joins.has(token.word))
    return says ? left.map((token) => this.text.slice(token.start, token.end)).join(' ') : ''
  }
}

const joins: ReadonlySet<string> = new Set(['of', 'from', 'by', 'and', 'some', 'the', 'in', 'at', 'a', 'an', 'with'])

type Phrases<T> = readonly { words: readonly string[]; means: T }[]

function phrases<T>(rows: readonly (readonly [T, readonly string[]])[]): Phrases<T> {
  return rows
    .flatMap(([means, texts]) => texts.map((text) => ({ words: text.split(' '), means })))
    .sort((a, b) => b.words.length - a.words.length)
}

function takeCrop(line: Line, knownCrops: readonly Crop[]): Crop | undefined {
  const found = knownCrops.flatMap((crop) =>
    [crop.plural, crop.singular, ...crop.synonyms].flatMap((name) => {
      const words = spelled(name)
      const at = line.find(words)
      return at === -1 ? [] : [{ crop, words, at, named: line.isCapital(at) }]
    }),
  )
  found.sort((a, b) => Number(a.named) - Number(b.named) || b.words.length - a.words.length || a.at - b.at)
  const best = found[0]
  if (best === undefined) return undefined
  line.take(best.at, best.at + best.words.length)
  return best.crop
}

/** The first number with a unit is taken for the weight; if there is none, the refusal of the first number is kept. */
function takeWeight(line: Line, crop: Crop | undefined, read: Omit<IntakeLine, 'notUnderstood'>): void {
  for (let at = 0; at < line.tokens.length; at += 1) {
    const isNumber = line.tokens[at]?.kind === 'number'
    if (!isNumber && line.word(at) === undefined) continue
    const found = massAt(line.tokens, line.isNegative(at) ? at - 1 : at, crop)
    if (found.ok) {
      line.take(at, found.next)
      read.weight = { grams: found.grams, reading: found.reading }
      delete read.weightRefusal
      return
    }
    if (isNumber && read.weightRefusal === undefined) read.weightRefusal = found.reason
  }
}

/** "donated", "bought from Tarn Orchard", "from Mara's trees", "by Ines". */
function takeOrigin(line: Line, read: Omit<IntakeLine, 'notUnderstood'>): void {
  const source = takePhrase(line, sourcePhrases)
  if (source !== undefined) {
    read.source = source
    // "gleaned windfalls" says the same twice.
    const again = sourcePhrases.filter((phrase) => phrase.means === source)
    while (takePhrase(line, again) !== undefined);
  }
  for (let at = 0; at < line.tokens.length; at += 1) {
    const word = line.word(at)
    if (word !== 'from' && word !== 'by') continue
    let end = at + 1
    let grown = false
    let owner = at
    while (!grown && line.word(end) !== undefined && !endsName.has(line.word(end) ?? '')) {
      grown = grownOn.has(line.word(end) ?? '') && line.isOwned(owner)
      owner = end
      end += 1
      if (line.isApostrophe(end)) end += 1
    }
    if (end === at + 1) continue
    line.take(at, end)
    const name = line.slice(at + 1, grown ? end - 1 : end).replace(/['\u2019\u02bc]s?$/, '')
    if (name !== '') read.broughtBy = name
    if (grown && read.source === undefined) read.source = 'own-trees'
    return
  }
}

/** Takes the first phrase found, longest phrases first, with the small words that lead up to it. */
function takePhrase<T>(line: Line, known: Phrases<T>): T | undefined {
  for (const { words, means } of known) {
    const at = line.find(words)
    if (at === -1 || line.isCapital(at)) continue
    let from = at
    while (from > 0 && placeLeaders.has(line.word(from - 1) ?? '')) from -= 1
    line.take(from, at + words.length)
    return means
  }
  return undefined
}

function spelled(name: string): string[] {
  return fold(name).split(/[\s-]+/)
}
