-- CreateTable
CREATE TABLE "HouseholdJars" (
    "coopId" TEXT NOT NULL,
    "householdId" TEXT NOT NULL,
    "jar" TEXT NOT NULL,
    "got" INTEGER NOT NULL DEFAULT 0,
    "returned" INTEGER NOT NULL DEFAULT 0,

    CONSTRAINT "HouseholdJars_pkey" PRIMARY KEY ("coopId","householdId","jar")
);

-- AddForeignKey
ALTER TABLE "HouseholdJars" ADD CONSTRAINT "HouseholdJars_coopId_householdId_fkey" FOREIGN KEY ("coopId", "householdId") REFERENCES "Household"("coopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- What Prisma's schema has no word for ------------------------------------------------------------------------------

-- What was used lately, read from the index alone.
CREATE INDEX "ShelfEntry_used" ON "ShelfEntry" ("coopId", "at") INCLUDE ("jarBatchId", "units", "id")
  WHERE "kind" IN ('take', 'give', 'use');

-- What one entry adds to jars of a size at a household. Got: jars that became its own by a batch, a move or a sharing,
-- less those that went from it to others, and what it took out of what was not its own. An undo, whose units have the
-- other sign, counts as the kind that it undoes.
CREATE FUNCTION "household_jars_of"(entry "ShelfEntry")
RETURNS TABLE ("householdId" text, "jar" text, "got" integer, "returned" integer) LANGUAGE plpgsql STABLE AS $$
DECLARE
  does text := entry."kind";
  owner text;
  size text;
BEGIN
  IF does = 'undo' THEN
    SELECT u."kind" INTO does FROM "ShelfEntry" u WHERE u."coopId" = entry."coopId" AND u."id" = entry."undoesId";
  END IF;
  IF does NOT IN ('put', 'take', 'move', 'share', 'return') THEN
    RETURN;
  END IF;
  IF entry."supplyId" IS NOT NULL THEN
    IF does = 'return' AND entry."householdId" IS NOT NULL THEN
      RETURN QUERY SELECT entry."householdId", substr(s."key", 5), 0, entry."units" FROM "Supply" s
        WHERE s."coopId" = entry."coopId" AND s."id" = entry."supplyId" AND s."key" LIKE 'jar-%';
    END IF;
    RETURN;
  END IF;
  SELECT j."householdId", b."jar" INTO owner, size FROM "JarBatch" j
    JOIN "Batch" b ON b."coopId" = j."coopId" AND b."id" = j."batchId"
    WHERE j."coopId" = entry."coopId" AND j."id" = entry."jarBatchId";
  IF size IS NULL THEN
    RETURN;
  END IF;
  IF does <> 'take' THEN
    IF owner IS NOT NULL THEN
      RETURN QUERY SELECT owner, size, entry."units", 0;
    END IF;
  ELSIF entry."householdId" IS DISTINCT FROM owner THEN
    RETURN QUERY SELECT m."of", size, m."adds", 0
      FROM (VALUES (owner, entry."units"), (entry."householdId", -entry."units")) m("of", "adds")
      WHERE m."of" IS NOT NULL ORDER BY 1;
  END IF;
END $$;

INSERT INTO "HouseholdJars" ("coopId", "householdId", "jar", "got", "returned")
  SELECT e."coopId", t."householdId", t."jar", sum(t."got"), sum(t."returned")
  FROM "ShelfEntry" e CROSS JOIN LATERAL "household_jars_of"(e) t
  GROUP BY e."coopId", t."householdId", t."jar";

-- At the end of a transaction, so that nobody who still needs the lock of a stock holds that of a total; and one
-- transaction after the other, so that two of several households do not wait for each other.
CREATE FUNCTION "household_jars_follow"() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  t record;
BEGIN
  FOR t IN SELECT * FROM "household_jars_of"(NEW) LOOP
    PERFORM pg_advisory_xact_lock(hashtextextended('HouseholdJars ' || NEW."coopId", 0));
    INSERT INTO "HouseholdJars" AS h ("coopId", "householdId", "jar", "got", "returned")
      VALUES (NEW."coopId", t."householdId", t."jar", t."got", t."returned")
      ON CONFLICT ("coopId", "householdId", "jar")
      DO UPDATE SET "got" = h."got" + EXCLUDED."got", "returned" = h."returned" + EXCLUDED."returned";
  END LOOP;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER "ShelfEntry_household_jars" AFTER INSERT ON "ShelfEntry"
  DEFERRABLE INITIALLY DEFERRED
  FOR EACH ROW WHEN (NEW."kind" IN ('put', 'take', 'move', 'share', 'return', 'undo'))
  EXECUTE FUNCTION "household_jars_follow"();

-- An emptied ledger has no totals.
CREATE FUNCTION "household_jars_end"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  DELETE FROM "HouseholdJars";
  RETURN NULL;
END $$;
CREATE TRIGGER "ShelfEntry_emptied" AFTER TRUNCATE ON "ShelfEntry"
  FOR EACH STATEMENT EXECUTE FUNCTION "household_jars_end"();
