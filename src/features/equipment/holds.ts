import { z } from 'zod'
import { jarSizes } from '../../core/process/types.ts'

/** More jars than this stand in no canner of a kitchen. */
export const MOST_JARS = 40

/** Jars of each size that one load of one canner takes; a size that is not named: as many as recipes say. */
export const holdsDocument = z.partialRecord(z.enum(jarSizes), z.int().min(1).max(MOST_JARS))
export type Holds = z.output<typeof holdsDocument>

/** Reads the stored counts; throws where they are not of the form that this program writes. */
export function readHolds(stored: unknown): Holds {
  return holdsDocument.parse(stored)
}
