import type { Entry, PhasePart } from '../../../core/day/index.ts'

/** Work without a break as people see it: the same step of the same batch by the same people with the same machines. */
export type Piece = Omit<Entry, 'activity' | 'phase' | 'portion'> & {
  /** What happens in it, in turn: one part, but for a loaded canner, which goes on from part to part by itself. */
  parts: { part: PhasePart; from: number; to: number }[]
  /** Units by portion: a portion that comes twice is counted once. */
  portions: ReadonlyMap<string, number>
  /** The entries that it is put together from, by `keyOf`. */
  keys: string[]
}

/** An entry's own name within its timetable, and in those that went on from it. */
export function keyOf({ activity, phase }: Pick<Entry, 'activity' | 'phase'>): string {
  return `${activity}/${phase}`
}

/**
 * Entries put together where one goes on where the other ends: four pieces of cutting become one, and what a loaded
 * canner does until its lid may be opened becomes one too. People who begin and end the same together stand in one
 * piece. Entries without length are left out.
 *
 * @returns by time
 */
export function piecesOf(entries: readonly Entry[]): Piece[] {
  const pieces: Piece[] = []
  const latest = new Map<string, Piece>()
  for (const entry of [...entries].sort(byTime)) {
    if (entry.to <= entry.from) continue
    const piece = pieceOf(entry)
    const key = JSON.stringify([workOf(piece), [...piece.helpers].sort()])
    const before = latest.get(key)
    if (before?.to === piece.from) {
      goOn(before, piece)
      continue
    }
    latest.set(key, piece)
    pieces.push(piece)
  }
  return together(pieces)
}

const inCanner: readonly PhasePart[] = ['come-up', 'process', 'settle']

function pieceOf({ activity, phase, portion, ...entry }: Entry): Piece {
  const { part, from, to, units } = entry
  return {
    ...entry,
    parts: [{ part, from, to }],
    portions: new Map([[String(portion ?? activity), units]]),
    keys: [keyOf({ activity, phase })],
  }
}

/** What is done, whoever does it. */
function workOf({ batch, step, part, helpers, machines }: Piece): string {
  return JSON.stringify([batch, step, inCanner.includes(part) ? 'load' : part, helpers.length > 0, machines])
}

function goOn(piece: Piece, next: Piece): void {
  const last = piece.parts.at(-1)
  if (last?.part === next.part) last.to = next.to
  else piece.parts.push(...next.parts)
  join(piece, next)
}

function together(pieces: readonly Piece[]): Piece[] {
  const found = new Map<string, Piece>()
  for (const piece of pieces) {
    const key = JSON.stringify([workOf(piece), piece.from, piece.to])
    const same = found.get(key)
    if (same === undefined) found.set(key, piece)
    else join(same, piece)
  }
  return [...found.values()]
}

function join(piece: Piece, other: Piece): void {
  piece.to = Math.max(piece.to, other.to)
  piece.helpers = [...new Set([...piece.helpers, ...other.helpers])]
  piece.portions = new Map([...piece.portions, ...other.portions])
  piece.units = [...piece.portions.values()].reduce((sum, units) => sum + units, 0)
  piece.keys = [...new Set([...piece.keys, ...other.keys])]
}

function byTime(a: Entry, b: Entry): number {
  return a.from - b.from || a.to - b.to
}
