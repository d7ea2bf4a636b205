import { z } from 'zod'
import { keepings } from '../../../core/shelf/index.ts'
import { idText } from '../../../ids.ts'

/** So many rows stand on one page of a list. */
export const ROWS_PER_PAGE = 50
const MOST_PAGES = 10_000

/** The page of a list, from 1. */
export const pageNumber = z.coerce.number().int().min(1).max(MOST_PAGES).default(1)

/** What a search may hold: characters that nobody sees count as spaces. */
const searched = z
  .string()
  .max(100)
  .default('')
  .transform((text) =>
    text
      .normalize('NFC')
      .replace(/\p{Cc}/gu, ' ')
      .trim(),
  )

const none = z.literal('')

/** The address of the stock list: what it is narrowed to. Each may be empty. */
export const stockQuery = z.object({
  q: searched.describe('Part of a product’s or variety’s name, or a batch code'),
  place: z.union([none, idText]).default('').describe('Id of a place'),
  whose: z.union([none, idText]).default('').describe('“shared”, or the id of a household'),
  keeping: z
    .union([none, z.enum(keepings)])
    .default('')
    .describe('What it must be kept in'),
  page: pageNumber,
})
export type StockQuery = z.output<typeof stockQuery>

/** The same as the queries take it; null: not narrowed by that. */
export type StockFilter = {
  q: string
  placeId: string | null
  shared: boolean
  householdId: string | null
  keeping: string | null
}

export function filterOf({ q, place, whose, keeping }: Omit<StockQuery, 'page'>): StockFilter {
  return {
    q,
    placeId: place || null,
    shared: whose === 'shared',
    householdId: whose === 'shared' ? null : whose || null,
    keeping: keeping || null,
  }
}
