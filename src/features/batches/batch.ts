import type { NotedProcess } from '../../core/batches/index.ts'
import type { UnsealedJarsWent } from '../../core/process/record.ts'
import type { RipenessClass, TrimKind } from '../../core/produce/index.ts'

/** What was noted at the canner; instants are ISO 8601 with their zone. */
export type ProcessGiven = Omit<NotedProcess, 'seals'> & {
  /** When the seals were tried; null: not yet. */
  sealsCheckedAt: string | null
}

/** A batch as somebody says that it was finished. Weights are whole grams, dates ISO dates. */
export type Finish = {
  recipeId: string
  pack: string
  /** The plan's batch that it carries out ("recipe:pack@day"); null: none was planned. */
  plan: { planId: string; planned: string } | null
  madeOn: string
  lots: { lotId: string; class: RipenessClass; grams: number }[]
  /** What other batches made that went in; `grams` null: as much as their recipe says is in one. */
  jars: { jarBatchId: string; units: number; grams: number | null }[]
  /** Trim and the like that went in, and comes from no lot. */
  otherGrams: number
  /** Put on the shelf; jars that were processed again and sealed then are among them. */
  units: number
  /** Jars that did not seal at first. */
  unsealed: number
  unsealedWent: UnsealedJarsWent | null
  trim: { kind: TrimKind; grams: number; outletId: string | null }[]
  helperIds: string[]
  handMinutes: number | null
  placeId: string
  /** null: shared */
  householdId: string | null
  note: string | null
  allergens: string[]
  /** null: by the published storage life, where there is one */
  bestBy: string | null
  /** Amounts by the supply's key, whole; what is missing was used as the recipe says. */
  supplies: Record<string, number>
  /** null: nothing was heated in jars, or nobody noted it */
  process: ProcessGiven | null
  /** More was taken of a lot than its forecast has. */
  sure: boolean
}

/** What may be corrected of a batch that is there; its units are the ledger's. */
export type BatchChange = {
  note: string | null
  bestBy: string | null
  helperIds: string[]
  handMinutes: number | null
}

export const MOST_UNITS = 100_000
export const MOST_HAND_MINUTES = 100_000
export const MOST_ALLERGENS = 20
