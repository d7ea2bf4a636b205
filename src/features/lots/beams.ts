import { ripenessClasses } from '../../core/produce/index.ts'
import { type Beam, beam, type Segment } from '../../web/beam.ts'
import type { Formatter } from '../../web/format.ts'
import { classWords } from './names.ts'
import type { Standing } from './standing.ts'

/** The beam of one lot as it stands: its classes, what is set aside, what batches used, what is lost. */
export function lotBeam(id: string, title: string, standing: Standing, format: Formatter): Beam {
  return beam({ id, title, whole: standing.wholeGrams, segments: segmentsOf(standing, format) })
}

/** The beam of several lots together; null when there is none. */
export function totalBeam(standings: readonly Standing[], format: Formatter): Beam | null {
  const [first, ...rest] = standings
  if (first === undefined) return null
  const total = rest.reduce(together, first)
  return beam({
    id: 'all-lots',
    title: `Where ${format.weight(total.wholeGrams)} that came in are today`,
    whole: total.wholeGrams,
    segments: segmentsOf(total, format),
  })
}

/** "12 kg firm, 20 kg ripe, 1 kg set aside": parts of no grams are left out. */
export function partsInWords(standing: Standing, format: Formatter): string {
  return segmentsOf(standing, format)
    .filter(({ amount }) => amount > 0)
    .map(({ label, text }) => `${text} ${label}`)
    .join(', ')
}

function segmentsOf(standing: Standing, format: Formatter): Segment[] {
  const { grams, setAsideGrams, lostGrams, spoiledGrams, usedGrams } = standing
  const parts: Omit<Segment, 'text'>[] = [
    ...ripenessClasses.map((name) => ({ label: classWords[name].name, amount: grams[name], pattern: name })),
    { label: 'set aside', amount: setAsideGrams, pattern: 'set-aside' },
    ...(usedGrams === 0 ? [] : [{ label: 'used', amount: usedGrams, pattern: 'jars' as const }]),
    { label: 'lost', amount: lostGrams + spoiledGrams, pattern: 'lost' },
  ]
  return parts.map((part) => ({ ...part, text: format.weight(part.amount) }))
}

type Sums = Pick<Standing, 'grams' | 'setAsideGrams' | 'lostGrams' | 'spoiledGrams' | 'usedGrams' | 'wholeGrams'>

function together<T extends Sums>(a: T, b: Sums): T {
  const { firm, ripe, soft, damaged } = a.grams
  return {
    ...a,
    grams: {
      firm: firm + b.grams.firm,
      ripe: ripe + b.grams.ripe,
      soft: soft + b.grams.soft,
      damaged: damaged + b.grams.damaged,
    },
    setAsideGrams: a.setAsideGrams + b.setAsideGrams,
    lostGrams: a.lostGrams + b.lostGrams,
    spoiledGrams: a.spoiledGrams + b.spoiledGrams,
    usedGrams: a.usedGrams + b.usedGrams,
    wholeGrams: a.wholeGrams + b.wholeGrams,
  }
}
