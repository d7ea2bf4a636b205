import type { EquipmentOnHand } from '../division/question.ts'
import type { EquipmentKind } from '../produce/vocabulary.ts'
import type { MachineKind } from './kitchen.ts'

/** Canners stand on the stove, and wide ones reach over to the next burner. */
export const canners = ['canner', 'pressure-canner', 'steam-canner'] as const satisfies readonly EquipmentKind[]
export type CannerKind = (typeof canners)[number]

/**
 * How burners are counted: each in `parts` (1 unless canners share some), and the parts that one canner of each kind
 * covers. A pot takes all parts of one burner.
 */
export type BurnerParts = { parts: number; covered: Record<CannerKind, number> }

/**
 * What canners cover of the burners. Where `count` canners cover `burners` together, each of them is counted with its
 * share, `burners / count`, and a burner is cut into as many parts as make all shares whole. So pots and canners fit
 * exactly if pots and the shares of the canners, rounded up to whole burners, are no more than there are: of two canners
 * over three burners one covers two, both cover three, and no pot stands on the half that the one leaves. Only another
 * canner does, of the same kind or another.
 *
 * Of a kind the widest counts for all, so that nothing is promised that one of them cannot do. A row that says nothing
 * covers one burner each, one that says 0 needs no stove.
 */
export function burnerParts(equipment: readonly Pick<EquipmentOnHand, 'kind' | 'count' | 'burners'>[]): BurnerParts {
  const widest = canners.map((kind) => {
    const shares = equipment
      .filter((one) => one.kind === kind && one.count > 0)
      .map(({ count, burners = count }) => reduced(burners, count))
    return shares.reduce(
      (wide, other) => (other.over * wide.under > wide.over * other.under ? other : wide),
      shares[0] ?? whole,
    )
  })
  const parts = widest.reduce((all, { under }) => (all * under) / divisor(all, under), 1)
  const covered = { canner: parts, 'pressure-canner': parts, 'steam-canner': parts }
  canners.forEach((kind, place) => {
    const { over, under } = widest[place] ?? whole
    covered[kind] = (over * parts) / under
  })
  return { parts, covered }
}

/** Burners that one start of a run covers, among the kinds that it keeps busy: one for a pot, its share for a canner. */
export function burnersOf({ parts, covered }: BurnerParts, kinds: readonly EquipmentKind[]): number {
  return most(kinds, (kind) => covered[kind], parts) / parts
}

/** The parts into which each of a kitchen's machines of a kind is cut; only burners are. */
export function partsEach(machines: readonly MachineKind[], kind: string): number {
  return machines.find((one) => one.kind === kind)?.parts ?? 1
}

/** How much of a machine one start takes, in its parts: all of it, but of burners as much as the canner with it covers. */
export function partsFor(
  machines: readonly MachineKind[],
  kind: EquipmentKind,
  kinds: readonly EquipmentKind[],
): number {
  const all = partsEach(machines, kind)
  if (kind !== 'burner') return all
  return most(kinds, (canner) => machines.find((one) => one.kind === canner)?.covers ?? all, all)
}

function most(kinds: readonly EquipmentKind[], of: (kind: CannerKind) => number, without: number): number {
  const own = canners.filter((kind) => kinds.includes(kind))
  return own.length === 0 ? without : Math.max(...own.map(of))
}

type Share = { over: number; under: number }
/** One burner, as a recipe has it. */
const whole: Share = { over: 1, under: 1 }

function reduced(over: number, under: number): Share {
  const by = divisor(over, under)
  return { over: over / by, under: under / by }
}

function divisor(a: number, b: number): number {
  return b === 0 ? a : divisor(b, a % b)
}
