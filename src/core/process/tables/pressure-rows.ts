import type { JarSize, PackStyle } from '../types.ts'
import { acidPressure, lowAcidPressure, type PressureTable, pints, quarts } from './rows.ts'

type Line = PressureTable['rows'][number]

/** One line that is printed alike in a dial table at 11 to 14 psi and in a weighted one at 10 and 15 psi. */
export function lowAcidLine(pack: PackStyle, jars: readonly JarSize[], minutes: number): Line {
  return { pack, jars, minutes, ...lowAcidPressure }
}

/** One line that is printed alike in a dial table at 6 to 9 psi and in a weighted one at 5 and 10 psi. */
export function acidLine(pack: PackStyle, jars: readonly JarSize[], minutes: number): Line {
  return { pack, jars, minutes, ...acidPressure }
}

/** The lines of a low-acid table that has pints and quarts; "hot and raw" of the tables is two lines. */
export function lowAcidLines(packs: readonly PackStyle[], inPints: number, inQuarts: number): Line[] {
  return packs.flatMap((pack) => [lowAcidLine(pack, pints, inPints), lowAcidLine(pack, quarts, inQuarts)])
}

export const hot = ['hot'] as const
export const hotAndRaw = ['hot', 'raw'] as const
