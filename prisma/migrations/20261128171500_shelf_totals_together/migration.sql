-- The totals of the shelf follow all that a transaction wrote at once, whatever it wrote: a row of totals that is changed
-- again and again within one transaction is read through all that it was before, so that 2,000 lines took 20 s.
--
-- Each statement notes what it wrote in a setting of its transaction, and the first of the deferred triggers counts all
-- that is noted; those after it find nothing left to do. As before they run at the very end, under the co-op's one lock.

DROP TRIGGER "JarBatch_totals" ON "JarBatch";
DROP TRIGGER "Batch_totals" ON "Batch";
DROP TRIGGER "ShelfEntry_use" ON "ShelfEntry";
DROP TRIGGER "ShelfEntry_household_jars" ON "ShelfEntry";
DROP FUNCTION "shelf_line_changed"();
DROP FUNCTION "shelf_batch_changed"();
DROP FUNCTION "shelf_use_follows"();
DROP FUNCTION "household_jars_follow"();
DROP FUNCTION "shelf_count_line"(text, text);

-- Counts lines, each named once: what was counted of them goes from the totals, what is there now comes to them. Of a
-- line that has not changed since nothing is written.
CREATE FUNCTION "shelf_count_lines"("coop" text, "lines" text[]) RETURNS void LANGUAGE plpgsql AS $$
DECLARE
  "was" "ShelfLine"[];
  "is" "ShelfLine"[];
  "others" text[];
BEGIN
  PERFORM "shelf_totals_lock"("coop");
  "was" := ARRAY (
    SELECT o."line" FROM unnest("lines") n ("id") CROSS JOIN LATERAL (
      SELECT l AS "line" FROM "ShelfLine" l WHERE l."coopId" = "coop" AND l."jarBatchId" = n."id" LIMIT 1
    ) o
  );
  "is" := ARRAY (
    SELECT o."line" FROM unnest("lines") n ("id") CROSS JOIN LATERAL (
      SELECT l AS "line" FROM "shelf_line_now"("coop", n."id") l LIMIT 1
    ) o
  );
  SELECT coalesce(array_agg(w) FILTER (WHERE w."jarBatchId" IS NOT NULL), '{}'),
      coalesce(array_agg(i) FILTER (WHERE i."jarBatchId" IS NOT NULL), '{}')
    INTO "was", "is"
    FROM unnest("was") w FULL JOIN unnest("is") i ON i."jarBatchId" = w."jarBatchId"
    WHERE w IS DISTINCT FROM i;
  IF cardinality("was") + cardinality("is") = 0 THEN
    RETURN;
  END IF;

  DELETE FROM "ShelfLine" WHERE ctid = ANY (ARRAY (
    SELECT o.ctid FROM (
      SELECT w."jarBatchId" FROM unnest("was") w EXCEPT SELECT i."jarBatchId" FROM unnest("is") i
    ) g CROSS JOIN LATERAL (
      SELECT l.ctid FROM "ShelfLine" l WHERE l."coopId" = "coop" AND l."jarBatchId" = g."jarBatchId" LIMIT 1
    ) o
  ));
  INSERT INTO "ShelfLine" SELECT i.* FROM unnest("is") i
    ON CONFLICT ("coopId", "jarBatchId") DO UPDATE SET "product" = EXCLUDED."product", "variety" = EXCLUDED."variety",
      "keeping" = EXCLUDED."keeping", "placeId" = EXCLUDED."placeId", "owner" = EXCLUDED."owner",
      "cold" = EXCLUDED."cold", "bestBy" = EXCLUDED."bestBy", "number" = EXCLUDED."number",
      "eatable" = EXCLUDED."eatable", "stock" = EXCLUDED."stock";

  INSERT INTO "ShelfTotal" AS t ("coopId", "recipeId", "pack", "product", "variety", "keeping", "placeId", "owner",
      "lines", "recalled", "units", "shared")
    SELECT l."coopId", l."recipeId", l."pack", l."product", l."variety", l."keeping", s."placeId", s."owner",
      sum(l."by"), coalesce(sum(l."by") FILTER (WHERE NOT l."eatable"), 0), sum(l."by" * l."stock"),
      coalesce(sum(l."by" * l."stock") FILTER (WHERE l."owner" = '-'), 0)
    FROM (SELECT -1 AS "by", w.* FROM unnest("was") w UNION ALL SELECT 1, i.* FROM unnest("is") i) l
      CROSS JOIN LATERAL (
        VALUES ('', ''), (l."placeId", ''), ('', l."owner"), (l."placeId", l."owner")
      ) s ("placeId", "owner")
    GROUP BY 1, 2, 3, 4, 5, 6, 7, 8
    ON CONFLICT ("coopId", "placeId", "owner", "recipeId", "pack", "product", "variety", "keeping") DO UPDATE SET
      "lines" = t."lines" + EXCLUDED."lines", "recalled" = t."recalled" + EXCLUDED."recalled",
      "units" = t."units" + EXCLUDED."units", "shared" = t."shared" + EXCLUDED."shared";
  UPDATE "ShelfProduct" p SET "lines" = p."lines" + c."lines", "units" = p."units" + c."units",
      "eatable" = p."eatable" + c."eatable"
    FROM (
      SELECT l."recipeId", l."pack", sum(l."by") AS "lines", sum(l."by" * l."stock") AS "units",
        coalesce(sum(l."by" * l."stock") FILTER (WHERE l."eatable"), 0) AS "eatable"
      FROM (SELECT -1 AS "by", w.* FROM unnest("was") w UNION ALL SELECT 1, i.* FROM unnest("is") i) l
      GROUP BY 1, 2
    ) c WHERE p."coopId" = "coop" AND p."recipeId" = c."recipeId" AND p."pack" = c."pack";

  -- Of lines that came, went or are others what no addition tells is looked up where it counts.
  "others" := ARRAY (
    SELECT l."jarBatchId" FROM unnest("was" || "is") l GROUP BY l."jarBatchId", to_jsonb(l) - 'stock' HAVING count(*) = 1
  );
  IF cardinality("others") = 0 THEN
    RETURN;
  END IF;
  DELETE FROM "ShelfTotal" WHERE ctid = ANY (ARRAY (
    SELECT o.ctid FROM (SELECT DISTINCT w."recipeId", w."pack" FROM unnest("was") w) g CROSS JOIN LATERAL (
      SELECT t.ctid FROM "ShelfTotal" t
      WHERE t."coopId" = "coop" AND t."recipeId" = g."recipeId" AND t."pack" = g."pack" AND t."lines" = 0 OFFSET 0
    ) o
  ));
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
    FROM (
      SELECT DISTINCT l."recipeId", l."pack", l."product", l."variety", l."keeping", s."placeId", s."owner"
      FROM unnest("was" || "is") l
        CROSS JOIN LATERAL (
          VALUES ('', ''), (l."placeId", ''), ('', l."owner"), (l."placeId", l."owner")
        ) s ("placeId", "owner")
      WHERE l."jarBatchId" IN (SELECT unnest("others"))
    ) c
    WHERE t."coopId" = "coop" AND t."recipeId" = c."recipeId" AND t."pack" = c."pack" AND t."product" = c."product"
      AND t."variety" = c."variety" AND t."keeping" = c."keeping" AND t."placeId" = c."placeId" AND t."owner" = c."owner";
END $$;

-- A line goes, or stands elsewhere: rare, so one by one. What comes and goes of its stock is told by the entries.
CREATE FUNCTION "shelf_line_changed"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM "shelf_count_lines"(OLD."coopId", ARRAY[OLD."id"]);
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER "JarBatch_gone" AFTER DELETE ON "JarBatch"
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION "shelf_line_changed"();
CREATE CONSTRAINT TRIGGER "JarBatch_elsewhere" AFTER UPDATE ON "JarBatch"
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW
  WHEN ((OLD."placeId", OLD."householdId") IS DISTINCT FROM (NEW."placeId", NEW."householdId"))
  EXECUTE FUNCTION "shelf_line_changed"();

-- What one statement wrote, by co-op: ids of entries, and of batches with their recipe and pack.
CREATE FUNCTION "shelf_note"("wrote" jsonb) RETURNS void LANGUAGE plpgsql AS $$
BEGIN
  PERFORM set_config('glutworks.shelf_wrote',
    concat_ws(',', nullif(current_setting('glutworks.shelf_wrote', true), ''), "wrote"::text), true);
END $$;
CREATE FUNCTION "shelf_entries_noted"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM "shelf_note"(n."wrote") FROM (
    SELECT jsonb_build_object('coop', w."coopId", 'entries', jsonb_agg(w."id")) AS "wrote" FROM "written" w GROUP BY w."coopId"
  ) n;
  RETURN NULL;
END $$;
CREATE TRIGGER "ShelfEntry_noted" AFTER INSERT ON "ShelfEntry" REFERENCING NEW TABLE AS "written"
  FOR EACH STATEMENT EXECUTE FUNCTION "shelf_entries_noted"();
CREATE FUNCTION "shelf_batches_noted"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM "shelf_note"(n."wrote") FROM (
    SELECT jsonb_build_object(
      'coop', w."coopId", 'batches', jsonb_agg(jsonb_build_array(w."id", w."recipeId", w."pack"))
    ) AS "wrote" FROM "written" w GROUP BY w."coopId"
  ) n;
  RETURN NULL;
END $$;
CREATE TRIGGER "Batch_added_noted" AFTER INSERT ON "Batch" REFERENCING NEW TABLE AS "written"
  FOR EACH STATEMENT EXECUTE FUNCTION "shelf_batches_noted"();
CREATE TRIGGER "Batch_changed_noted" AFTER UPDATE ON "Batch" REFERENCING NEW TABLE AS "written"
  FOR EACH STATEMENT EXECUTE FUNCTION "shelf_batches_noted"();
CREATE TRIGGER "Batch_gone_noted" AFTER DELETE ON "Batch" REFERENCING OLD TABLE AS "written"
  FOR EACH STATEMENT EXECUTE FUNCTION "shelf_batches_noted"();

-- Brings all totals up to date with what was noted. A product comes before its lines are counted, and is called as its
-- newest batch is; what was used and what a household got is added by entry.
CREATE FUNCTION "shelf_totals_add"("wrote" jsonb) RETURNS void LANGUAGE plpgsql AS $$
DECLARE
  "coop" text;
  "entries" "ShelfEntry"[];
  "batches" jsonb[];
BEGIN
  FOR "coop" IN SELECT DISTINCT w->>'coop' FROM jsonb_array_elements("wrote") w ORDER BY 1 LOOP
    PERFORM "shelf_totals_lock"("coop");
    "entries" := ARRAY (
      SELECT o."entry" FROM jsonb_array_elements("wrote") w CROSS JOIN jsonb_array_elements_text(w->'entries') n ("id")
        CROSS JOIN LATERAL (
          SELECT e AS "entry" FROM "ShelfEntry" e WHERE e."coopId" = "coop" AND e."id" = n."id" LIMIT 1
        ) o
      WHERE w->>'coop' = "coop"
    );
    "batches" := ARRAY (
      SELECT b FROM jsonb_array_elements("wrote") w CROSS JOIN jsonb_array_elements(w->'batches') b
      WHERE w->>'coop' = "coop"
    );

    INSERT INTO "ShelfProduct" ("coopId", "recipeId", "pack", "product", "unit", "unitsName", "firstMadeOn", "lines",
        "units", "eatable")
      SELECT "coop", p."recipeId", p."pack", n."product", n."unit", n."unitsName",
        (SELECT min(f."madeOn") FROM "Batch" f
          WHERE f."coopId" = "coop" AND f."recipeId" = p."recipeId" AND f."pack" = p."pack"), 0, 0, 0
      FROM (SELECT DISTINCT b->>1 AS "recipeId", b->>2 AS "pack" FROM unnest("batches") b) p
        CROSS JOIN LATERAL (
          SELECT n."product", n."unit", n."unitsName" FROM "Batch" n
          WHERE n."coopId" = "coop" AND n."recipeId" = p."recipeId" AND n."pack" = p."pack"
          ORDER BY n."number" DESC LIMIT 1
        ) n
      ON CONFLICT ("coopId", "recipeId", "pack") DO UPDATE SET "product" = EXCLUDED."product", "unit" = EXCLUDED."unit",
        "unitsName" = EXCLUDED."unitsName", "firstMadeOn" = EXCLUDED."firstMadeOn";
    DELETE FROM "ShelfProduct" p WHERE p."coopId" = "coop"
      AND (p."recipeId", p."pack") IN (SELECT DISTINCT b->>1, b->>2 FROM unnest("batches") b)
      AND NOT EXISTS (
        SELECT FROM "Batch" b WHERE b."coopId" = "coop" AND b."recipeId" = p."recipeId" AND b."pack" = p."pack"
      );

    PERFORM "shelf_count_lines"("coop", ARRAY (
      SELECT e."jarBatchId" FROM unnest("entries") e WHERE e."jarBatchId" IS NOT NULL
      UNION
      SELECT o."id" FROM unnest("batches") b CROSS JOIN LATERAL (
        SELECT j."id" FROM "JarBatch" j WHERE j."coopId" = "coop" AND j."batchId" = b->>0 OFFSET 0
      ) o
    ));

    INSERT INTO "ShelfUse" AS s ("coopId", "span", "from", "recipeId", "pack", "units")
      SELECT "coop", d."span", d."from", t."recipeId", t."pack", sum(t."units")
      FROM unnest("entries") e CROSS JOIN LATERAL "shelf_use_of"(e) t
        CROSS JOIN LATERAL (VALUES ('day', t."on"), ('month', date_trunc('month', t."on")::date)) d ("span", "from")
      WHERE e."kind" IN ('take', 'give', 'use', 'undo')
      GROUP BY 2, 3, 4, 5
      ON CONFLICT ("coopId", "span", "from", "recipeId", "pack") DO UPDATE SET "units" = s."units" + EXCLUDED."units";

    INSERT INTO "HouseholdJars" AS h ("coopId", "householdId", "jar", "got", "returned")
      SELECT "coop", t."householdId", t."jar", sum(t."got"), sum(t."returned")
      FROM unnest("entries") e CROSS JOIN LATERAL "household_jars_of"(e) t
      WHERE e."kind" IN ('put', 'take', 'move', 'share', 'return', 'undo')
      GROUP BY 2, 3
      ON CONFLICT ("coopId", "householdId", "jar")
      DO UPDATE SET "got" = h."got" + EXCLUDED."got", "returned" = h."returned" + EXCLUDED."returned";
  END LOOP;
END $$;
CREATE FUNCTION "shelf_totals_follow"() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  "noted" text := coalesce(current_setting('glutworks.shelf_wrote', true), '');
BEGIN
  IF "noted" <> '' THEN
    PERFORM set_config('glutworks.shelf_wrote', '', true);
    PERFORM "shelf_totals_add"(('[' || "noted" || ']')::jsonb);
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER "ShelfEntry_totals" AFTER INSERT ON "ShelfEntry"
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION "shelf_totals_follow"();
CREATE CONSTRAINT TRIGGER "Batch_totals" AFTER INSERT OR UPDATE OR DELETE ON "Batch"
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION "shelf_totals_follow"();

-- An emptied ledger has no totals and leaves no stock.
CREATE OR REPLACE FUNCTION "household_jars_end"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  DELETE FROM "HouseholdJars";
  DELETE FROM "ShelfUse";
  DELETE FROM "ShelfLine";
  DELETE FROM "ShelfTotal";
  UPDATE "ShelfProduct" SET "lines" = 0, "units" = 0, "eatable" = 0 WHERE "lines" <> 0;
  UPDATE "JarBatch" SET "stock" = 0 WHERE "stock" <> 0;
  UPDATE "Supply" SET "onHand" = 0 WHERE "onHand" <> 0;
  RETURN NULL;
END $$;

-- A session plans these once, for few lines as for many: planning them anew takes longer than counting one line. What was
-- planned on an empty shelf, without statistics (the embedded database never has any), would read a full one from end to
-- end for each entry: so rows are looked up one by one, by their key, above and by these settings.
ALTER FUNCTION "shelf_entry_moves_stock"() SET enable_seqscan = off SET jit = off;
ALTER FUNCTION "household_jars_of"("ShelfEntry") SET enable_seqscan = off SET jit = off;
ALTER FUNCTION "shelf_count_lines"(text, text[]) SET enable_seqscan = off SET enable_hashjoin = off
  SET enable_mergejoin = off SET plan_cache_mode = force_generic_plan SET jit = off;
ALTER FUNCTION "shelf_totals_add"(jsonb) SET enable_seqscan = off SET enable_hashjoin = off
  SET enable_mergejoin = off SET plan_cache_mode = force_generic_plan SET jit = off;
