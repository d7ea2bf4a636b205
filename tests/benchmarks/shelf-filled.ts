import pg from 'pg'

/** How much stands in the shelf that is measured. */
export const size = { lines: 10_000, entriesPerLine: 50, recipes: 100, households: 20, places: 6 } as const

/**
 * Fills a migrated, empty database with a co-op of three years' standing: lines of batches made one after the other over
 * 900 days, each with a put and 49 entries over the 98 days that follow, every tenth of which takes the one before back;
 * and a thousand returns of empty jars. A fifth of the lines is empty in the end. Written in bulk with the triggers off,
 * stock and `stockAfter` set to what they would have made; throws where the sums do not agree afterwards.
 */
export async function fillShelf(url: string): Promise<void> {
  const client = new pg.Client({ connectionString: url })
  await client.connect()
  try {
    await client.query(`BEGIN; ${kitchen} ${lines} ${entries} ${supplies} COMMIT`)
    await client.query(`BEGIN; ${totals} COMMIT`)
    await client.query('VACUUM ANALYZE')
    const { rows } = await client.query<{ wrong: string; entries: string }>(`
      SELECT count(*) FILTER (WHERE j."stock" <> e."units" OR e."least" < 0) AS "wrong", sum(e."many") AS "entries"
      FROM "JarBatch" j JOIN (
        SELECT "jarBatchId", sum("units") AS "units", min("stockAfter") AS "least", count(*) AS "many"
        FROM "ShelfEntry" GROUP BY 1
      ) e ON e."jarBatchId" = j."id"`)
    const [found] = rows
    if (found?.wrong !== '0' || Number(found.entries) !== size.lines * size.entriesPerLine)
      throw new Error(`the shelf was not filled as it should be: ${JSON.stringify(found)}`)
  } finally {
    await client.end()
  }
}

const kitchen = `
  INSERT INTO "Coop" ("id", "name", "town", "altitudeM", "timeZone", "locale", "units", "currency")
    VALUES ('coop', 'Larkrise Lane', 'Ansley', 300, 'Europe/London', 'en-GB', 'metric', 'GBP');
  INSERT INTO "Household" ("coopId", "id", "name")
    SELECT 'coop', 'household-' || h, 'Household ' || h FROM generate_series(0, ${size.households - 1}) h;
  INSERT INTO "Member" ("coopId", "id", "householdId", "name", "role")
    VALUES ('coop', 'rosalind', 'household-0', 'Rosalind Pike', 'steward');
  INSERT INTO "Place" ("coopId", "id", "name", "kind")
    SELECT 'coop', 'place-' || p, 'cellar ' || p, 'cellar' FROM generate_series(0, ${size.places - 1}) p;
  INSERT INTO "Recipe" ("coopId", "id", "name", "method", "definition")
    SELECT 'coop', 'recipe-' || r, 'Preserve ' || r, 'water-bath', '{}' FROM generate_series(0, ${size.recipes - 1}) r;`

// Two packs of each recipe; every third line shared.
const lines = `
  INSERT INTO "Batch" ("coopId", "id", "number", "code", "recipeId", "recipeVersion", "pack", "product", "method", "unit",
      "unitsName", "jar", "keeping", "madeOn", "bestBy", "inGrams", "units", "allergens", "worthMinor", "finishedBy", "finishedAt")
    SELECT 'coop', 'batch-' || l, l, 'B' || l, 'recipe-' || l % ${size.recipes}, 1, 'pack-' || l % 2,
      'Preserve ' || l % ${size.recipes}, 'water-bath', 'pint jar', 'pint jars',
      CASE l % 2 WHEN 0 THEN 'pint' ELSE 'quart' END, 'shelf', made, made + 540, 30000, 60, '{}', 400, 'Bea', made
    FROM (SELECT l, current_date - 1000 + l * 900 / ${size.lines} AS made FROM generate_series(1, ${size.lines}) l) every;
  INSERT INTO "JarBatch" ("coopId", "id", "batchId", "placeId", "householdId", "createdAt")
    SELECT 'coop', 'line-' || l, 'batch-' || l, 'place-' || l % ${size.places},
      CASE WHEN l % 3 = 0 THEN NULL ELSE 'household-' || l % ${size.households} END, now()
    FROM generate_series(1, ${size.lines}) l;`

const entries = `
  ALTER TABLE "ShelfEntry" DISABLE TRIGGER USER;
  ALTER TABLE "JarBatch" DISABLE TRIGGER USER;
  INSERT INTO "ShelfEntry" ("coopId", "id", "at", "jarBatchId", "kind", "units", "stockAfter", "householdId", "by", "undoesId")
    SELECT 'coop', 'entry-' || l || '-' || n, at, 'line-' || l, kind, units,
      sum(units) OVER (PARTITION BY l ORDER BY n),
      CASE WHEN kind IN ('take', 'undo') THEN 'household-' || (l + n - CASE kind WHEN 'undo' THEN 1 ELSE 0 END) % ${size.households} END,
      'Bea', CASE kind WHEN 'undo' THEN 'entry-' || l || '-' || n - 1 END
    FROM (
      SELECT l, n, now() - interval '1000 days' + (l * 900 / ${size.lines} + 2 * n) * interval '1 day' AS at,
        CASE WHEN n = 1 THEN 'put' WHEN n = 50 AND l % 5 = 0 THEN 'break' WHEN n % 10 = 0 THEN 'undo'
          WHEN n % 10 IN (3, 7) THEN 'give' WHEN n % 10 = 5 THEN 'break' ELSE 'take' END AS kind,
        CASE WHEN n = 1 THEN CASE l % 5 WHEN 0 THEN 41 ELSE 60 + l % 40 END
          WHEN n % 10 = 0 AND NOT (n = 50 AND l % 5 = 0) THEN 1 ELSE -1 END AS units
      FROM generate_series(1, ${size.lines}) l, generate_series(1, ${size.entriesPerLine}) n
    ) every ORDER BY at, l, n;
  UPDATE "JarBatch" j SET "stock" = e."units" FROM (
    SELECT "jarBatchId", sum("units") AS "units" FROM "ShelfEntry" GROUP BY 1
  ) e WHERE e."jarBatchId" = j."id";
  ALTER TABLE "ShelfEntry" ENABLE TRIGGER USER;
  ALTER TABLE "JarBatch" ENABLE TRIGGER USER;`

const supplies = `
  INSERT INTO "Supply" ("coopId", "id", "key", "name", "unit", "onHand", "packSize", "packPriceMinor", "packsAtMost")
    SELECT 'coop', jar, jar, jar, 'jar', 10, 12, 1200, 10 FROM unnest(ARRAY['jar-pint', 'jar-quart']) jar;
  INSERT INTO "ShelfEntry" ("coopId", "id", "at", "supplyId", "kind", "units", "householdId", "by")
    SELECT 'coop', 'return-' || n, now(), CASE n % 2 WHEN 0 THEN 'jar-pint' ELSE 'jar-quart' END, 'return', 6,
      'household-' || n % ${size.households}, 'Bea'
    FROM generate_series(1, 1000) n;`

// The triggers were off: all totals are added up from what was written.
const totals = `SELECT "shelf_totals_anew"();`
