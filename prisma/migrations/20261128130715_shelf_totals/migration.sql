-- CreateTable
CREATE TABLE "ShelfProduct" (
    "coopId" TEXT NOT NULL,
    "recipeId" TEXT NOT NULL,
    "pack" TEXT NOT NULL,
    "product" TEXT NOT NULL,
    "unit" TEXT NOT NULL,
    "unitsName" TEXT NOT NULL,
    "firstMadeOn" DATE NOT NULL,
    "lines" INTEGER NOT NULL,
    "units" BIGINT NOT NULL,
    "eatable" BIGINT NOT NULL,

    CONSTRAINT "ShelfProduct_pkey" PRIMARY KEY ("coopId","recipeId","pack")
);

-- CreateTable
CREATE TABLE "ShelfLine" (
    "coopId" TEXT NOT NULL,
    "jarBatchId" TEXT NOT NULL,
    "recipeId" TEXT NOT NULL,
    "pack" TEXT NOT NULL,
    "product" TEXT NOT NULL,
    "variety" TEXT NOT NULL,
    "keeping" TEXT NOT NULL,
    "placeId" TEXT NOT NULL,
    "owner" TEXT NOT NULL,
    "cold" BOOLEAN NOT NULL,
    "bestBy" DATE,
    "number" INTEGER NOT NULL,
    "eatable" BOOLEAN NOT NULL,
    "stock" INTEGER NOT NULL,

    CONSTRAINT "ShelfLine_pkey" PRIMARY KEY ("coopId","jarBatchId")
);

-- CreateTable
CREATE TABLE "ShelfTotal" (
    "coopId" TEXT NOT NULL,
    "recipeId" TEXT NOT NULL,
    "pack" TEXT NOT NULL,
    "product" TEXT NOT NULL,
    "variety" TEXT NOT NULL,
    "keeping" TEXT NOT NULL,
    "placeId" TEXT NOT NULL,
    "owner" TEXT NOT NULL,
    "lines" INTEGER NOT NULL,
    "recalled" INTEGER NOT NULL,
    "units" BIGINT NOT NULL,
    "shared" BIGINT NOT NULL,
    "oldest" DATE,
    "places" TEXT[],
    "owners" TEXT[],

    CONSTRAINT "ShelfTotal_pkey" PRIMARY KEY ("coopId","placeId","owner","recipeId","pack","product","variety","keeping")
);

-- CreateTable
CREATE TABLE "ShelfUse" (
    "coopId" TEXT NOT NULL,
    "span" TEXT NOT NULL,
    "from" DATE NOT NULL,
    "recipeId" TEXT NOT NULL,
    "pack" TEXT NOT NULL,
    "units" BIGINT NOT NULL,

    CONSTRAINT "ShelfUse_pkey" PRIMARY KEY ("coopId","span","from","recipeId","pack")
);

-- CreateIndex
CREATE INDEX "ShelfLine_coopId_bestBy_number_jarBatchId_idx" ON "ShelfLine"("coopId", "bestBy", "number", "jarBatchId");

-- CreateIndex
CREATE INDEX "ShelfLine_coopId_recipeId_pack_bestBy_number_jarBatchId_idx" ON "ShelfLine"("coopId", "recipeId", "pack", "bestBy", "number", "jarBatchId");

-- CreateIndex
CREATE INDEX "ShelfLine_coopId_placeId_bestBy_number_jarBatchId_idx" ON "ShelfLine"("coopId", "placeId", "bestBy", "number", "jarBatchId");

-- CreateIndex
CREATE INDEX "ShelfTotal_coopId_recipeId_pack_idx" ON "ShelfTotal"("coopId", "recipeId", "pack");

-- CreateIndex
CREATE INDEX "Batch_coopId_recipeId_pack_number_idx" ON "Batch"("coopId", "recipeId", "pack", "number");

-- AddForeignKey
ALTER TABLE "ShelfProduct" ADD CONSTRAINT "ShelfProduct_coopId_fkey" FOREIGN KEY ("coopId") REFERENCES "Coop"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ShelfLine" ADD CONSTRAINT "ShelfLine_coopId_fkey" FOREIGN KEY ("coopId") REFERENCES "Coop"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ShelfTotal" ADD CONSTRAINT "ShelfTotal_coopId_fkey" FOREIGN KEY ("coopId") REFERENCES "Coop"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ShelfUse" ADD CONSTRAINT "ShelfUse_coopId_fkey" FOREIGN KEY ("coopId") REFERENCES "Coop"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- What Prisma's schema has no word for ------------------------------------------------------------------------------

-- What to eat first, by what orders it.
CREATE INDEX "ShelfLine_eat_first" ON "ShelfLine" ("coopId", "cold", "bestBy", "number", "jarBatchId")
  WHERE "eatable" AND "bestBy" IS NOT NULL;
-- Use is read from its totals.
DROP INDEX "ShelfEntry_used";

-- One transaction of a co-op after the other brings its totals up to date, at its very end: so nobody who still needs
-- the lock of a stock holds that of a total, and each sees what those before it wrote.
CREATE FUNCTION "shelf_totals_lock"("coop" text) RETURNS void LANGUAGE sql AS $$
  SELECT pg_advisory_xact_lock(hashtextextended('shelf totals ' || "coop", 0))
$$;

-- A line as it is to be counted; no row where none of it is in stock.
CREATE FUNCTION "shelf_line_now"("coop" text, "line" text) RETURNS SETOF "ShelfLine" LANGUAGE sql STABLE AS $$
  SELECT j."coopId", j."id", b."recipeId", b."pack", b."product", coalesce(b."variety", ''), b."keeping", j."placeId",
    coalesce(j."householdId", '-'), b."keeping" = 'refrigerator', b."bestBy", b."number", b."recalledAt" IS NULL, j."stock"
  FROM "JarBatch" j JOIN "Batch" b ON b."coopId" = j."coopId" AND b."id" = j."batchId"
  WHERE j."coopId" = "coop" AND j."id" = "line" AND j."stock" > 0
$$;

-- Counts one line: what was counted of it goes from the totals, what is there now comes to them. Where nothing has
-- changed since, as after the first of several entries of one transaction, nothing is written.
CREATE FUNCTION "shelf_count_line"("coop" text, "line" text) RETURNS void LANGUAGE plpgsql AS $$
DECLARE
  "was" "ShelfLine";
  "is" "ShelfLine";
  "like" "ShelfLine";
BEGIN
  PERFORM "shelf_totals_lock"("coop");
  SELECT * INTO "was" FROM "ShelfLine" l WHERE l."coopId" = "coop" AND l."jarBatchId" = "line";
  SELECT * INTO "is" FROM "shelf_line_now"("coop", "line");
  IF "was" IS NOT DISTINCT FROM "is" THEN
    RETURN;
  END IF;

  IF "is"."jarBatchId" IS NULL OR "was"."jarBatchId" IS NULL THEN
    DELETE FROM "ShelfLine" l WHERE l."coopId" = "coop" AND l."jarBatchId" = "line";
    INSERT INTO "ShelfLine" SELECT "is".* WHERE "is"."jarBatchId" IS NOT NULL;
  ELSE
    UPDATE "ShelfLine" l SET "product" = "is"."product", "variety" = "is"."variety", "keeping" = "is"."keeping",
      "placeId" = "is"."placeId", "owner" = "is"."owner", "cold" = "is"."cold", "bestBy" = "is"."bestBy",
      "number" = "is"."number", "eatable" = "is"."eatable", "stock" = "is"."stock"
      WHERE l."coopId" = "coop" AND l."jarBatchId" = "line";
  END IF;

  INSERT INTO "ShelfTotal" AS t ("coopId", "recipeId", "pack", "product", "variety", "keeping", "placeId", "owner",
      "lines", "recalled", "units", "shared")
    SELECT l."coopId", l."recipeId", l."pack", l."product", l."variety", l."keeping", s."placeId", s."owner",
      sum(2 * n - 3), coalesce(sum(2 * n - 3) FILTER (WHERE NOT l."eatable"), 0), sum((2 * n - 3) * l."stock"),
      coalesce(sum((2 * n - 3) * l."stock") FILTER (WHERE l."owner" = '-'), 0)
    FROM (SELECT 1 AS n, "was".* UNION ALL SELECT 2, "is".*) l
      CROSS JOIN LATERAL (
        VALUES ('', ''), (l."placeId", ''), ('', l."owner"), (l."placeId", l."owner")
      ) s ("placeId", "owner")
    WHERE l."jarBatchId" IS NOT NULL
    GROUP BY 1, 2, 3, 4, 5, 6, 7, 8
    ON CONFLICT ("coopId", "placeId", "owner", "recipeId", "pack", "product", "variety", "keeping") DO UPDATE SET
      "lines" = t."lines" + EXCLUDED."lines", "recalled" = t."recalled" + EXCLUDED."recalled",
      "units" = t."units" + EXCLUDED."units", "shared" = t."shared" + EXCLUDED."shared";
  UPDATE "ShelfProduct" p SET
    "lines" = p."lines" + ("is"."jarBatchId" IS NOT NULL)::int - ("was"."jarBatchId" IS NOT NULL)::int,
    "units" = p."units" + coalesce("is"."stock", 0) - coalesce("was"."stock", 0),
    "eatable" = p."eatable" + CASE WHEN "is"."eatable" THEN "is"."stock" ELSE 0 END
      - CASE WHEN "was"."eatable" THEN "was"."stock" ELSE 0 END
    WHERE p."coopId" = "coop" AND p."recipeId" = coalesce("is"."recipeId", "was"."recipeId")
      AND p."pack" = coalesce("is"."pack", "was"."pack");

  "like" := "is";
  "like"."stock" := "was"."stock";
  IF "like" IS NOT DISTINCT FROM "was" THEN
    RETURN;
  END IF;
  -- The line came, went or is another: what no addition tells is looked up where it counts.
  DELETE FROM "ShelfTotal" t WHERE t."coopId" = "coop" AND t."recipeId" = "was"."recipeId" AND t."pack" = "was"."pack"
    AND t."lines" = 0;
  UPDATE "ShelfTotal" t SET
    "oldest" = (
      SELECT l."bestBy" FROM "ShelfLine" l
      WHERE l."coopId" = t."coopId" AND l."recipeId" = t."recipeId" AND l."pack" = t."pack"
        AND l."product" = t."product" AND l."variety" = t."variety" AND l."keeping" = t."keeping"
        AND (t."placeId" = '' OR l."placeId" = t."placeId") AND (t."owner" = '' OR l."owner" = t."owner")
      ORDER BY l."bestBy" LIMIT 1
    ),
    "places" = ARRAY (
      SELECT u."placeId" FROM "ShelfTotal" u
      WHERE u."coopId" = t."coopId" AND u."recipeId" = t."recipeId" AND u."pack" = t."pack"
        AND u."product" = t."product" AND u."variety" = t."variety" AND u."keeping" = t."keeping"
        AND u."owner" = t."owner" AND u."placeId" <> '' AND t."placeId" IN ('', u."placeId") ORDER BY 1
    ),
    "owners" = ARRAY (
      SELECT u."owner" FROM "ShelfTotal" u
      WHERE u."coopId" = t."coopId" AND u."recipeId" = t."recipeId" AND u."pack" = t."pack"
        AND u."product" = t."product" AND u."variety" = t."variety" AND u."keeping" = t."keeping"
        AND u."placeId" = t."placeId" AND u."owner" NOT IN ('', '-') AND t."owner" IN ('', u."owner") ORDER BY 1
    )
    WHERE (t."coopId", t."recipeId", t."pack") =
        ("coop", coalesce("is"."recipeId", "was"."recipeId"), coalesce("is"."pack", "was"."pack"))
      AND (t."placeId" = '' OR t."placeId" IN ("was"."placeId", "is"."placeId"))
      AND (t."owner" = '' OR t."owner" IN ("was"."owner", "is"."owner"));
END $$;

CREATE FUNCTION "shelf_line_changed"() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  "line" "JarBatch" := coalesce(NEW, OLD);
BEGIN
  PERFORM "shelf_count_line"("line"."coopId", "line"."id");
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER "JarBatch_totals" AFTER UPDATE OR DELETE ON "JarBatch"
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION "shelf_line_changed"();

-- A product is called as its newest batch is.
CREATE FUNCTION "shelf_batch_changed"() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  "b" "Batch" := coalesce(NEW, OLD);
BEGIN
  PERFORM "shelf_totals_lock"("b"."coopId");
  PERFORM "shelf_count_line"(j."coopId", j."id") FROM "JarBatch" j
    WHERE j."coopId" = "b"."coopId" AND j."batchId" = "b"."id";
  INSERT INTO "ShelfProduct" ("coopId", "recipeId", "pack", "product", "unit", "unitsName", "firstMadeOn", "lines",
      "units", "eatable")
    SELECT n."coopId", n."recipeId", n."pack", n."product", n."unit", n."unitsName",
      (SELECT min(f."madeOn") FROM "Batch" f
        WHERE f."coopId" = n."coopId" AND f."recipeId" = n."recipeId" AND f."pack" = n."pack"), 0, 0, 0
    FROM "Batch" n WHERE n."coopId" = "b"."coopId" AND n."recipeId" = "b"."recipeId" AND n."pack" = "b"."pack"
    ORDER BY n."number" DESC LIMIT 1
    ON CONFLICT ("coopId", "recipeId", "pack") DO UPDATE SET "product" = EXCLUDED."product", "unit" = EXCLUDED."unit",
      "unitsName" = EXCLUDED."unitsName", "firstMadeOn" = EXCLUDED."firstMadeOn";
  IF NOT FOUND THEN
    DELETE FROM "ShelfProduct" p
      WHERE p."coopId" = "b"."coopId" AND p."recipeId" = "b"."recipeId" AND p."pack" = "b"."pack";
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER "Batch_totals" AFTER INSERT OR UPDATE OR DELETE ON "Batch"
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION "shelf_batch_changed"();

-- Totals are kept by product: a batch and its lines stay what they are.
CREATE FUNCTION "stays_of_its_product"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'a batch stays one of its recipe and pack, and jars stay of their batch';
END $$;
CREATE TRIGGER "Batch_stays_of_its_product" BEFORE UPDATE ON "Batch" FOR EACH ROW
  WHEN ((OLD."coopId", OLD."recipeId", OLD."pack") IS DISTINCT FROM (NEW."coopId", NEW."recipeId", NEW."pack"))
  EXECUTE FUNCTION "stays_of_its_product"();
CREATE TRIGGER "JarBatch_stays_of_its_batch" BEFORE UPDATE ON "JarBatch" FOR EACH ROW
  WHEN ((OLD."coopId", OLD."batchId") IS DISTINCT FROM (NEW."coopId", NEW."batchId"))
  EXECUTE FUNCTION "stays_of_its_product"();

-- What one entry adds to the use of its product, on the day of what was used: an undo counts on the day of what it takes
-- back, with the other sign.
CREATE FUNCTION "shelf_use_of"("entry" "ShelfEntry")
RETURNS TABLE ("on" date, "recipeId" text, "pack" text, "units" bigint) LANGUAGE sql STABLE AS $$
  SELECT (u."at" AT TIME ZONE 'UTC')::date, b."recipeId", b."pack", -"entry"."units"::bigint
  FROM "ShelfEntry" u
    JOIN "JarBatch" j ON j."coopId" = u."coopId" AND j."id" = u."jarBatchId"
    JOIN "Batch" b ON b."coopId" = j."coopId" AND b."id" = j."batchId"
  WHERE u."coopId" = "entry"."coopId" AND u."kind" IN ('take', 'give', 'use')
    AND u."id" = CASE "entry"."kind" WHEN 'undo' THEN "entry"."undoesId" ELSE "entry"."id" END
$$;
CREATE FUNCTION "shelf_use_follows"() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  t record;
BEGIN
  FOR t IN SELECT * FROM "shelf_use_of"(NEW) LOOP
    PERFORM "shelf_totals_lock"(NEW."coopId");
    INSERT INTO "ShelfUse" AS s ("coopId", "span", "from", "recipeId", "pack", "units")
      VALUES (NEW."coopId", 'day', t."on", t."recipeId", t."pack", t."units"),
        (NEW."coopId", 'month', date_trunc('month', t."on")::date, t."recipeId", t."pack", t."units")
      ON CONFLICT ("coopId", "span", "from", "recipeId", "pack") DO UPDATE SET "units" = s."units" + EXCLUDED."units";
  END LOOP;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER "ShelfEntry_use" AFTER INSERT ON "ShelfEntry"
  DEFERRABLE INITIALLY DEFERRED
  FOR EACH ROW WHEN (NEW."kind" IN ('take', 'give', 'use', 'undo')) EXECUTE FUNCTION "shelf_use_follows"();

-- Under the same lock as the others, so that two transactions never wait for each other's totals.
CREATE OR REPLACE FUNCTION "household_jars_follow"() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  t record;
BEGIN
  FOR t IN SELECT * FROM "household_jars_of"(NEW) LOOP
    PERFORM "shelf_totals_lock"(NEW."coopId");
    INSERT INTO "HouseholdJars" AS h ("coopId", "householdId", "jar", "got", "returned")
      VALUES (NEW."coopId", t."householdId", t."jar", t."got", t."returned")
      ON CONFLICT ("coopId", "householdId", "jar")
      DO UPDATE SET "got" = h."got" + EXCLUDED."got", "returned" = h."returned" + EXCLUDED."returned";
  END LOOP;
  RETURN NULL;
END $$;

-- An emptied ledger has no totals and leaves no stock.
CREATE OR REPLACE FUNCTION "household_jars_end"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  DELETE FROM "HouseholdJars";
  DELETE FROM "ShelfUse";
  UPDATE "JarBatch" SET "stock" = 0 WHERE "stock" <> 0;
  UPDATE "Supply" SET "onHand" = 0 WHERE "onHand" <> 0;
  RETURN NULL;
END $$;
CREATE FUNCTION "shelf_lines_end"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  DELETE FROM "ShelfLine";
  DELETE FROM "ShelfTotal";
  UPDATE "ShelfProduct" SET "lines" = 0, "units" = 0, "eatable" = 0 WHERE "lines" <> 0;
  RETURN NULL;
END $$;
CREATE TRIGGER "JarBatch_emptied" AFTER TRUNCATE ON "JarBatch"
  FOR EACH STATEMENT EXECUTE FUNCTION "shelf_lines_end"();
CREATE FUNCTION "shelf_products_end"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  DELETE FROM "ShelfProduct";
  RETURN NULL;
END $$;
CREATE TRIGGER "Batch_emptied" AFTER TRUNCATE ON "Batch"
  FOR EACH STATEMENT EXECUTE FUNCTION "shelf_products_end"();

-- All totals from the ledger and its lines, whatever stood there before: for a shelf that was written without the
-- triggers, as now.
CREATE FUNCTION "shelf_totals_anew"() RETURNS void LANGUAGE plpgsql AS $$
BEGIN
  PERFORM "shelf_totals_lock"("id") FROM "Coop" ORDER BY "id";
  DELETE FROM "HouseholdJars";
  INSERT INTO "HouseholdJars" ("coopId", "householdId", "jar", "got", "returned")
    SELECT e."coopId", t."householdId", t."jar", sum(t."got"), sum(t."returned")
    FROM "ShelfEntry" e CROSS JOIN LATERAL "household_jars_of"(e) t GROUP BY 1, 2, 3;

  DELETE FROM "ShelfUse";
  INSERT INTO "ShelfUse" ("coopId", "span", "from", "recipeId", "pack", "units")
    WITH "used" AS MATERIALIZED (
      SELECT e."coopId", t.* FROM "ShelfEntry" e CROSS JOIN LATERAL "shelf_use_of"(e) t
      WHERE e."kind" IN ('take', 'give', 'use', 'undo')
    )
    SELECT "coopId", 'day', "on", "recipeId", "pack", sum("units") FROM "used" GROUP BY 1, 2, 3, 4, 5
    UNION ALL
    SELECT "coopId", 'month', date_trunc('month', "on")::date, "recipeId", "pack", sum("units") FROM "used"
      GROUP BY 1, 2, 3, 4, 5;

  DELETE FROM "ShelfLine";
  INSERT INTO "ShelfLine"
    SELECT l.* FROM "JarBatch" j CROSS JOIN LATERAL "shelf_line_now"(j."coopId", j."id") l WHERE j."stock" > 0;

  DELETE FROM "ShelfTotal";
  INSERT INTO "ShelfTotal" ("coopId", "recipeId", "pack", "product", "variety", "keeping", "placeId", "owner", "lines",
      "recalled", "units", "shared", "oldest", "places", "owners")
    SELECT l."coopId", l."recipeId", l."pack", l."product", l."variety", l."keeping", coalesce(l."in", ''),
      coalesce(l."of", ''), count(*), count(*) FILTER (WHERE NOT l."eatable"), sum(l."stock"),
      coalesce(sum(l."stock") FILTER (WHERE l."owner" = '-'), 0), min(l."bestBy"),
      array_agg(DISTINCT l."placeId" ORDER BY l."placeId"),
      coalesce(array_agg(DISTINCT l."owner" ORDER BY l."owner") FILTER (WHERE l."owner" <> '-'), '{}')
    FROM (SELECT *, "placeId" AS "in", "owner" AS "of" FROM "ShelfLine") l
    GROUP BY l."coopId", l."recipeId", l."pack", l."product", l."variety", l."keeping", CUBE (l."in", l."of");

  DELETE FROM "ShelfProduct";
  INSERT INTO "ShelfProduct" ("coopId", "recipeId", "pack", "product", "unit", "unitsName", "firstMadeOn", "lines",
      "units", "eatable")
    SELECT b."coopId", b."recipeId", b."pack", (array_agg(b."product" ORDER BY b."number" DESC))[1],
      (array_agg(b."unit" ORDER BY b."number" DESC))[1], (array_agg(b."unitsName" ORDER BY b."number" DESC))[1],
      min(b."madeOn"), coalesce(sum(l."lines"), 0), coalesce(sum(l."units"), 0), coalesce(sum(l."eatable"), 0)
    FROM "Batch" b LEFT JOIN LATERAL (
      SELECT count(*) AS "lines", sum(j."stock") AS "units",
        CASE WHEN b."recalledAt" IS NULL THEN sum(j."stock") ELSE 0 END AS "eatable"
      FROM "JarBatch" j WHERE j."coopId" = b."coopId" AND j."batchId" = b."id" AND j."stock" > 0
    ) l ON true
    GROUP BY b."coopId", b."recipeId", b."pack";
END $$;
SELECT "shelf_totals_anew"();
