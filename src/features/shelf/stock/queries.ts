import { Prisma } from '../../../db/generated/client.ts'
import { storedDate } from '../../../db/stored.ts'
import type { TransactionClient } from '../../../db/transaction.ts'
import { notFound } from '../../../errors.ts'
import type { Asking } from '../../../web/asking.ts'
import { ROWS_PER_PAGE, type StockFilter } from './filter.ts'

/** Everything of one product (a recipe in a pack) that is in stock. */
export type ProductStock = {
  recipeId: string
  pack: string
  /** Name and unit as the newest batch has them. */
  product: string
  unit: string
  unitsName: string
  units: number
  shared: number
  /** Ids of the households that have some of it, and of the places where it stands; in no order. */
  householdIds: ReadonlySet<string>
  placeIds: ReadonlySet<string>
  oldest: string | null
  recalled: boolean
}
/** A page of products, and how many products and units there are on all pages together. */
export type StockPage = { products: ProductStock[]; all: { products: number; units: number } }

type Row = Omit<ProductStock, 'householdIds' | 'placeIds' | 'oldest'> & {
  owners: string
  places: string
  oldest: Date | null
}
/** A product with what all come to; where there is none to show, one row tells that alone. */
type PageRow = (Row | { recipeId: null }) & { allProducts: number; allUnits: number }

/**
 * What is in stock by product, by name; narrowed as the filter says. From the totals that the database keeps, as they
 * were when the last transaction ended. One query, whatever there is.
 */
export async function listProducts(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
  filter: StockFilter,
  page: number,
): Promise<StockPage> {
  const rows = await prisma.$queryRaw<PageRow[]>`
    WITH "products" AS MATERIALIZED (
      SELECT "recipeId", "pack", sum("units") AS "units", sum("shared") AS "shared", min("oldest") AS "oldest",
        bool_or("recalled") AS "recalled", string_agg(array_to_string("places", ' '), ' ') AS "places",
        string_agg(array_to_string("owners", ' '), ' ') AS "owners"
      FROM (${totals(coopId, filter)}${filter.q === '' ? Prisma.empty : Prisma.sql` UNION ALL ${ofBatch(coopId, filter)}`}) t
      GROUP BY "recipeId", "pack"
    ), "shown" AS (
      SELECT p."recipeId", p."pack", n."product", n."unit", n."unitsName", p."units"::float8, p."shared"::float8,
        p."oldest", p."recalled", p."places", p."owners"
      FROM "products" p JOIN "ShelfProduct" n
        ON n."coopId" = ${coopId} AND n."recipeId" = p."recipeId" AND n."pack" = p."pack"
      ORDER BY lower(n."product"), p."pack", p."recipeId" LIMIT ${ROWS_PER_PAGE} OFFSET ${(page - 1) * ROWS_PER_PAGE}
    )
    SELECT s.*, a."allProducts", a."allUnits"
    FROM (SELECT count(*)::float8 AS "allProducts", coalesce(sum("units"), 0)::float8 AS "allUnits" FROM "products") a
      LEFT JOIN "shown" s ON true
    ORDER BY lower(s."product"), s."pack", s."recipeId"`
  return {
    products: rows.flatMap((row) => (row.recipeId === null ? [] : [stockOf(row)])),
    all: { products: rows[0]?.allProducts ?? 0, units: rows[0]?.allUnits ?? 0 },
  }
}

/** The totals that a filter asks for, one row for each name, variety and keeping. */
function totals(coopId: string, { q, placeId, shared, householdId, keeping }: StockFilter): Prisma.Sql {
  return Prisma.sql`
    SELECT t."recipeId", t."pack", t."units", t."shared", t."oldest", t."recalled" > 0 AS "recalled", t."places", t."owners"
    FROM "ShelfTotal" t
    WHERE t."coopId" = ${coopId} AND t."placeId" = ${placeId ?? ''} AND t."owner" = ${shared ? '-' : (householdId ?? '')}
      AND (${keeping}::text IS NULL OR t."keeping" = ${keeping})
      AND (${q}::text = '' OR strpos(lower(t."product"), lower(${q})) > 0 OR strpos(lower(t."variety"), lower(${q})) > 0)`
}

/** What is left of the batch whose code was looked for, unless its name or variety was found already. */
function ofBatch(coopId: string, { q, placeId, shared, householdId, keeping }: StockFilter): Prisma.Sql {
  return Prisma.sql`
    SELECT b."recipeId", b."pack", sum(j."stock"), coalesce(sum(j."stock") FILTER (WHERE j."householdId" IS NULL), 0),
      min(b."bestBy"), bool_or(b."recalledAt" IS NOT NULL), array_agg(j."placeId"),
      array_remove(array_agg(j."householdId"), NULL)
    FROM "Batch" b JOIN "JarBatch" j ON j."coopId" = b."coopId" AND j."batchId" = b."id" AND j."stock" > 0
    WHERE b."coopId" = ${coopId} AND b."code" = upper(${q})
      AND strpos(lower(b."product"), lower(${q})) = 0 AND strpos(lower(coalesce(b."variety", '')), lower(${q})) = 0
      AND (${placeId}::text IS NULL OR j."placeId" = ${placeId})
      AND (${householdId}::text IS NULL OR j."householdId" = ${householdId})
      AND (NOT ${shared}::boolean OR j."householdId" IS NULL)
      AND (${keeping}::text IS NULL OR b."keeping" = ${keeping})
    GROUP BY b."recipeId", b."pack"`
}

function stockOf({ owners, places, oldest, ...row }: Row & { allProducts: number; allUnits: number }): ProductStock {
  const { allProducts: _, allUnits: __, ...product } = row
  return {
    ...product,
    householdIds: idsIn(owners),
    placeIds: idsIn(places),
    oldest: oldest === null ? null : storedDate(oldest),
  }
}

function idsIn(text: string): Set<string> {
  return new Set(text.split(' ').filter((id) => id !== ''))
}

export type Named = { id: string; name: string }

/** All places, the closed ones too, and all households, each by name. One query. */
export async function listNames(
  prisma: TransactionClient,
  { coopId, coop }: Pick<Asking, 'coopId' | 'coop'>,
): Promise<{ places: (Named & { closed: boolean })[]; households: Named[] }> {
  const rows = await prisma.$queryRaw<(Named & { closed: boolean | null })[]>`
    SELECT "id", "name", "closed" FROM "Place" WHERE "coopId" = ${coopId}
    UNION ALL SELECT "id", "name", NULL FROM "Household" WHERE "coopId" = ${coopId}`
  rows.sort((a, b) => a.name.localeCompare(b.name, coop.locale))
  return {
    places: rows.flatMap(({ id, name, closed }) => (closed === null ? [] : [{ id, name, closed }])),
    households: rows.flatMap(({ id, name, closed }) => (closed === null ? [{ id, name }] : [])),
  }
}

/** What a product is called, by its newest batch, and what is in stock of it. Refused as not found where no batch was ever made. */
export async function findProduct(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
  recipeId: string,
  pack: string,
): Promise<{ product: string; unit: string; unitsName: string; units: number; lines: number }> {
  const found = await prisma.shelfProduct.findUnique({
    where: { coopId_recipeId_pack: { coopId, recipeId, pack } },
    select: { product: true, unit: true, unitsName: true, units: true, lines: true },
  })
  if (found === null) throw notFound('such product')
  return { ...found, units: Number(found.units) }
}
