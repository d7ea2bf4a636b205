-- AlterTable
ALTER TABLE "Coop" ADD COLUMN     "batchesNumbered" INTEGER NOT NULL DEFAULT 0;

-- AlterTable
ALTER TABLE "Household" ADD COLUMN     "people" INTEGER NOT NULL DEFAULT 1;

-- AlterTable
ALTER TABLE "Sorting" ADD COLUMN     "usedGrams" INTEGER NOT NULL DEFAULT 0;

-- AlterTable
ALTER TABLE "Supply" ADD COLUMN     "gone" BOOLEAN NOT NULL DEFAULT false;

-- CreateTable
CREATE TABLE "Place" (
    "coopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "householdId" TEXT,
    "closed" BOOLEAN NOT NULL DEFAULT false,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "Place_pkey" PRIMARY KEY ("coopId","id")
);

-- CreateTable
CREATE TABLE "Batch" (
    "coopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "number" INTEGER NOT NULL,
    "code" TEXT NOT NULL,
    "recipeId" TEXT NOT NULL,
    "recipeVersion" INTEGER NOT NULL,
    "pack" TEXT NOT NULL,
    "product" TEXT NOT NULL,
    "variety" TEXT,
    "method" TEXT NOT NULL,
    "unit" TEXT NOT NULL,
    "unitsName" TEXT NOT NULL,
    "jar" TEXT,
    "keeping" TEXT NOT NULL,
    "madeOn" DATE NOT NULL,
    "bestBy" DATE,
    "planId" TEXT,
    "planned" TEXT,
    "inGrams" INTEGER NOT NULL,
    "units" INTEGER NOT NULL,
    "unsealed" INTEGER NOT NULL DEFAULT 0,
    "handMinutes" INTEGER,
    "expectedUnits" DOUBLE PRECISION,
    "expectedHandMinutes" DOUBLE PRECISION,
    "process" JSONB,
    "allergens" TEXT[],
    "worthMinor" INTEGER NOT NULL,
    "note" TEXT,
    "finishedBy" TEXT NOT NULL,
    "finishedAt" TIMESTAMPTZ(3) NOT NULL,
    "recalledAt" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "Batch_pkey" PRIMARY KEY ("coopId","id")
);

-- CreateTable
CREATE TABLE "BatchInput" (
    "coopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "batchId" TEXT NOT NULL,
    "lotId" TEXT,
    "class" TEXT,
    "jarBatchId" TEXT,
    "grams" INTEGER NOT NULL,
    "units" INTEGER,

    CONSTRAINT "BatchInput_pkey" PRIMARY KEY ("coopId","id")
);

-- CreateTable
CREATE TABLE "BatchTrim" (
    "coopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "batchId" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "grams" INTEGER NOT NULL,
    "outletId" TEXT,

    CONSTRAINT "BatchTrim_pkey" PRIMARY KEY ("coopId","id")
);

-- CreateTable
CREATE TABLE "BatchHelper" (
    "coopId" TEXT NOT NULL,
    "batchId" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "helperId" TEXT,
    "minutes" INTEGER,

    CONSTRAINT "BatchHelper_pkey" PRIMARY KEY ("coopId","batchId","name")
);

-- CreateTable
CREATE TABLE "JarBatch" (
    "coopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "batchId" TEXT NOT NULL,
    "placeId" TEXT NOT NULL,
    "householdId" TEXT,
    "stock" INTEGER NOT NULL DEFAULT 0,
    "createdAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "JarBatch_pkey" PRIMARY KEY ("coopId","id")
);

-- CreateTable
CREATE TABLE "ShelfEntry" (
    "coopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "order" SERIAL NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "jarBatchId" TEXT,
    "supplyId" TEXT,
    "kind" TEXT NOT NULL,
    "units" INTEGER NOT NULL,
    "stockAfter" INTEGER NOT NULL DEFAULT 0,
    "householdId" TEXT,
    "by" TEXT NOT NULL,
    "note" TEXT,
    "movement" TEXT,
    "undoesId" TEXT,
    "shareOutId" TEXT,

    CONSTRAINT "ShelfEntry_pkey" PRIMARY KEY ("coopId","id")
);

-- CreateTable
CREATE TABLE "Recall" (
    "coopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "reason" TEXT NOT NULL,
    "todo" TEXT NOT NULL,
    "by" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "liftedAt" TIMESTAMPTZ(3),
    "liftedBy" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "Recall_pkey" PRIMARY KEY ("coopId","id")
);

-- CreateTable
CREATE TABLE "RecallBatch" (
    "coopId" TEXT NOT NULL,
    "recallId" TEXT NOT NULL,
    "batchId" TEXT NOT NULL,

    CONSTRAINT "RecallBatch_pkey" PRIMARY KEY ("coopId","recallId","batchId")
);

-- CreateTable
CREATE TABLE "SlowJob" (
    "coopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "place" TEXT,
    "batchId" TEXT,
    "startedOn" DATE NOT NULL,
    "endedOn" DATE,
    "ended" TEXT,
    "note" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "SlowJob_pkey" PRIMARY KEY ("coopId","id")
);

-- CreateTable
CREATE TABLE "SlowStage" (
    "coopId" TEXT NOT NULL,
    "jobId" TEXT NOT NULL,
    "number" INTEGER NOT NULL,
    "says" TEXT NOT NULL,
    "dueOn" DATE NOT NULL,
    "measure" TEXT,
    "doneOn" DATE,
    "doneBy" TEXT,
    "found" TEXT,
    "note" TEXT,

    CONSTRAINT "SlowStage_pkey" PRIMARY KEY ("coopId","jobId","number")
);

-- CreateTable
CREATE TABLE "ShareRule" (
    "coopId" TEXT NOT NULL,
    "method" TEXT NOT NULL,
    "pointsPerKg" DOUBLE PRECISION NOT NULL,
    "pointsPerHour" DOUBLE PRECISION NOT NULL,
    "pointsPerMoney" DOUBLE PRECISION NOT NULL,
    "byNeedPercent" INTEGER NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "ShareRule_pkey" PRIMARY KEY ("coopId")
);

-- CreateTable
CREATE TABLE "ShareOut" (
    "coopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "number" INTEGER NOT NULL,
    "name" TEXT NOT NULL,
    "state" TEXT NOT NULL,
    "question" JSONB NOT NULL,
    "answer" JSONB NOT NULL,
    "by" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "handedOutAt" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "ShareOut_pkey" PRIMARY KEY ("coopId","id")
);

-- CreateTable
CREATE TABLE "OwedEntry" (
    "coopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "householdId" TEXT NOT NULL,
    "shareOutId" TEXT NOT NULL,
    "worthMinor" INTEGER NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "OwedEntry_pkey" PRIMARY KEY ("coopId","id")
);

-- CreateTable
CREATE TABLE "LabelSheet" (
    "coopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "geometry" JSONB NOT NULL,
    "shiftRight" INTEGER NOT NULL DEFAULT 0,
    "shiftDown" INTEGER NOT NULL DEFAULT 0,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "LabelSheet_pkey" PRIMARY KEY ("coopId","id")
);

-- CreateIndex
CREATE UNIQUE INDEX "Place_coopId_name_key" ON "Place"("coopId", "name");

-- CreateIndex
CREATE INDEX "Batch_coopId_recipeId_madeOn_idx" ON "Batch"("coopId", "recipeId", "madeOn");

-- CreateIndex
CREATE INDEX "Batch_coopId_bestBy_idx" ON "Batch"("coopId", "bestBy");

-- CreateIndex
CREATE UNIQUE INDEX "Batch_coopId_number_key" ON "Batch"("coopId", "number");

-- CreateIndex
CREATE UNIQUE INDEX "Batch_coopId_code_key" ON "Batch"("coopId", "code");

-- CreateIndex
CREATE INDEX "BatchInput_coopId_batchId_idx" ON "BatchInput"("coopId", "batchId");

-- CreateIndex
CREATE INDEX "BatchInput_coopId_lotId_idx" ON "BatchInput"("coopId", "lotId");

-- CreateIndex
CREATE INDEX "BatchInput_coopId_jarBatchId_idx" ON "BatchInput"("coopId", "jarBatchId");

-- CreateIndex
CREATE INDEX "BatchTrim_coopId_batchId_idx" ON "BatchTrim"("coopId", "batchId");

-- CreateIndex
CREATE INDEX "JarBatch_coopId_placeId_idx" ON "JarBatch"("coopId", "placeId");

-- CreateIndex
CREATE INDEX "JarBatch_coopId_householdId_idx" ON "JarBatch"("coopId", "householdId");

-- CreateIndex
CREATE UNIQUE INDEX "JarBatch_one_of_a_kind" ON "JarBatch"("coopId", "batchId", "placeId", "householdId");

-- CreateIndex
CREATE INDEX "ShelfEntry_coopId_jarBatchId_order_idx" ON "ShelfEntry"("coopId", "jarBatchId", "order");

-- CreateIndex
CREATE INDEX "ShelfEntry_coopId_supplyId_order_idx" ON "ShelfEntry"("coopId", "supplyId", "order");

-- CreateIndex
CREATE INDEX "ShelfEntry_coopId_householdId_order_idx" ON "ShelfEntry"("coopId", "householdId", "order");

-- CreateIndex
CREATE INDEX "ShelfEntry_coopId_order_idx" ON "ShelfEntry"("coopId", "order");

-- CreateIndex
CREATE UNIQUE INDEX "ShelfEntry_coopId_undoesId_key" ON "ShelfEntry"("coopId", "undoesId");

-- CreateIndex
CREATE INDEX "SlowJob_coopId_endedOn_idx" ON "SlowJob"("coopId", "endedOn");

-- CreateIndex
CREATE INDEX "SlowStage_coopId_doneOn_dueOn_idx" ON "SlowStage"("coopId", "doneOn", "dueOn");

-- CreateIndex
CREATE UNIQUE INDEX "ShareOut_coopId_number_key" ON "ShareOut"("coopId", "number");

-- CreateIndex
CREATE UNIQUE INDEX "OwedEntry_coopId_shareOutId_householdId_key" ON "OwedEntry"("coopId", "shareOutId", "householdId");

-- CreateIndex
CREATE UNIQUE INDEX "LabelSheet_coopId_name_key" ON "LabelSheet"("coopId", "name");

-- AddForeignKey
ALTER TABLE "Place" ADD CONSTRAINT "Place_coopId_fkey" FOREIGN KEY ("coopId") REFERENCES "Coop"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Place" ADD CONSTRAINT "Place_coopId_householdId_fkey" FOREIGN KEY ("coopId", "householdId") REFERENCES "Household"("coopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Batch" ADD CONSTRAINT "Batch_coopId_fkey" FOREIGN KEY ("coopId") REFERENCES "Coop"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Batch" ADD CONSTRAINT "Batch_coopId_recipeId_fkey" FOREIGN KEY ("coopId", "recipeId") REFERENCES "Recipe"("coopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Batch" ADD CONSTRAINT "Batch_coopId_planId_fkey" FOREIGN KEY ("coopId", "planId") REFERENCES "Plan"("coopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "BatchInput" ADD CONSTRAINT "BatchInput_coopId_batchId_fkey" FOREIGN KEY ("coopId", "batchId") REFERENCES "Batch"("coopId", "id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "BatchInput" ADD CONSTRAINT "BatchInput_coopId_lotId_fkey" FOREIGN KEY ("coopId", "lotId") REFERENCES "Lot"("coopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "BatchInput" ADD CONSTRAINT "BatchInput_coopId_jarBatchId_fkey" FOREIGN KEY ("coopId", "jarBatchId") REFERENCES "JarBatch"("coopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "BatchTrim" ADD CONSTRAINT "BatchTrim_coopId_batchId_fkey" FOREIGN KEY ("coopId", "batchId") REFERENCES "Batch"("coopId", "id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "BatchTrim" ADD CONSTRAINT "BatchTrim_coopId_outletId_fkey" FOREIGN KEY ("coopId", "outletId") REFERENCES "Outlet"("coopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "BatchHelper" ADD CONSTRAINT "BatchHelper_coopId_batchId_fkey" FOREIGN KEY ("coopId", "batchId") REFERENCES "Batch"("coopId", "id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "BatchHelper" ADD CONSTRAINT "BatchHelper_coopId_helperId_fkey" FOREIGN KEY ("coopId", "helperId") REFERENCES "Helper"("coopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "JarBatch" ADD CONSTRAINT "JarBatch_coopId_fkey" FOREIGN KEY ("coopId") REFERENCES "Coop"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "JarBatch" ADD CONSTRAINT "JarBatch_coopId_batchId_fkey" FOREIGN KEY ("coopId", "batchId") REFERENCES "Batch"("coopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "JarBatch" ADD CONSTRAINT "JarBatch_coopId_placeId_fkey" FOREIGN KEY ("coopId", "placeId") REFERENCES "Place"("coopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "JarBatch" ADD CONSTRAINT "JarBatch_coopId_householdId_fkey" FOREIGN KEY ("coopId", "householdId") REFERENCES "Household"("coopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ShelfEntry" ADD CONSTRAINT "ShelfEntry_coopId_fkey" FOREIGN KEY ("coopId") REFERENCES "Coop"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ShelfEntry" ADD CONSTRAINT "ShelfEntry_coopId_jarBatchId_fkey" FOREIGN KEY ("coopId", "jarBatchId") REFERENCES "JarBatch"("coopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ShelfEntry" ADD CONSTRAINT "ShelfEntry_coopId_supplyId_fkey" FOREIGN KEY ("coopId", "supplyId") REFERENCES "Supply"("coopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ShelfEntry" ADD CONSTRAINT "ShelfEntry_coopId_householdId_fkey" FOREIGN KEY ("coopId", "householdId") REFERENCES "Household"("coopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ShelfEntry" ADD CONSTRAINT "ShelfEntry_coopId_undoesId_fkey" FOREIGN KEY ("coopId", "undoesId") REFERENCES "ShelfEntry"("coopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ShelfEntry" ADD CONSTRAINT "ShelfEntry_coopId_shareOutId_fkey" FOREIGN KEY ("coopId", "shareOutId") REFERENCES "ShareOut"("coopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Recall" ADD CONSTRAINT "Recall_coopId_fkey" FOREIGN KEY ("coopId") REFERENCES "Coop"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "RecallBatch" ADD CONSTRAINT "RecallBatch_coopId_recallId_fkey" FOREIGN KEY ("coopId", "recallId") REFERENCES "Recall"("coopId", "id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "RecallBatch" ADD CONSTRAINT "RecallBatch_coopId_batchId_fkey" FOREIGN KEY ("coopId", "batchId") REFERENCES "Batch"("coopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "SlowJob" ADD CONSTRAINT "SlowJob_coopId_fkey" FOREIGN KEY ("coopId") REFERENCES "Coop"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "SlowJob" ADD CONSTRAINT "SlowJob_coopId_batchId_fkey" FOREIGN KEY ("coopId", "batchId") REFERENCES "Batch"("coopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "SlowStage" ADD CONSTRAINT "SlowStage_coopId_jobId_fkey" FOREIGN KEY ("coopId", "jobId") REFERENCES "SlowJob"("coopId", "id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ShareRule" ADD CONSTRAINT "ShareRule_coopId_fkey" FOREIGN KEY ("coopId") REFERENCES "Coop"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ShareOut" ADD CONSTRAINT "ShareOut_coopId_fkey" FOREIGN KEY ("coopId") REFERENCES "Coop"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "OwedEntry" ADD CONSTRAINT "OwedEntry_coopId_householdId_fkey" FOREIGN KEY ("coopId", "householdId") REFERENCES "Household"("coopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "OwedEntry" ADD CONSTRAINT "OwedEntry_coopId_shareOutId_fkey" FOREIGN KEY ("coopId", "shareOutId") REFERENCES "ShareOut"("coopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "LabelSheet" ADD CONSTRAINT "LabelSheet_coopId_fkey" FOREIGN KEY ("coopId") REFERENCES "Coop"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- What Prisma's schema has no word for ------------------------------------------------------------------------------

-- NULL is unlike NULL to the index above: shared jars of a batch are one line in each place, too.
CREATE UNIQUE INDEX "JarBatch_one_shared" ON "JarBatch" ("coopId", "batchId", "placeId") WHERE "householdId" IS NULL;
-- What the shelf shows first.
CREATE INDEX "JarBatch_in_stock" ON "JarBatch" ("coopId", "batchId") WHERE "stock" > 0;

ALTER TABLE "JarBatch" ADD CONSTRAINT "JarBatch_never_below_zero" CHECK ("stock" >= 0);
ALTER TABLE "Supply" ADD CONSTRAINT "Supply_never_below_zero" CHECK ("onHand" >= 0);
ALTER TABLE "ShelfEntry" ADD CONSTRAINT "ShelfEntry_of_one_thing" CHECK (num_nonnulls("jarBatchId", "supplyId") = 1);
ALTER TABLE "ShelfEntry" ADD CONSTRAINT "ShelfEntry_not_nothing" CHECK ("units" <> 0 OR "kind" = 'count');
ALTER TABLE "BatchInput" ADD CONSTRAINT "BatchInput_of_one_thing" CHECK (num_nonnulls("lotId", "jarBatchId") = 1);

-- What is on hand when the ledger begins.
INSERT INTO "ShelfEntry" ("coopId", "id", "at", "supplyId", "kind", "units", "stockAfter", "by", "note")
  SELECT "coopId", gen_random_uuid()::text, now(), "id", 'count', "onHand", "onHand", 'the service', 'on hand when the ledger began'
  FROM "Supply" WHERE "onHand" > 0;

-- An entry moves the stock by its units, in the same transaction, and is told what it left. The row of the stock is
-- locked by it, so entries of one thing come one after the other and none can pass the checks above by coming at once.
CREATE FUNCTION "shelf_entry_moves_stock"() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  recalled timestamptz;
BEGIN
  IF NEW."jarBatchId" IS NOT NULL THEN
    -- A recall waits for what is being taken, and what comes after it is refused.
    SELECT b."recalledAt" INTO recalled FROM "JarBatch" j
      JOIN "Batch" b ON b."coopId" = j."coopId" AND b."id" = j."batchId"
      WHERE j."coopId" = NEW."coopId" AND j."id" = NEW."jarBatchId"
      FOR SHARE OF b;
    IF recalled IS NOT NULL AND NEW."kind" IN ('take', 'give', 'share', 'use') THEN
      RAISE EXCEPTION 'a recalled batch cannot be taken' USING ERRCODE = 'check_violation', CONSTRAINT = 'ShelfEntry_not_recalled';
    END IF;
    UPDATE "JarBatch" SET "stock" = "stock" + NEW."units"
      WHERE "coopId" = NEW."coopId" AND "id" = NEW."jarBatchId" RETURNING "stock" INTO NEW."stockAfter";
  ELSE
    UPDATE "Supply" SET "onHand" = "onHand" + NEW."units"
      WHERE "coopId" = NEW."coopId" AND "id" = NEW."supplyId" RETURNING "onHand" INTO NEW."stockAfter";
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER "ShelfEntry_moves_stock" BEFORE INSERT ON "ShelfEntry"
  FOR EACH ROW EXECUTE FUNCTION "shelf_entry_moves_stock"();

-- Jars come and go by entries alone.
CREATE FUNCTION "stock_by_entries_alone"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF pg_trigger_depth() < 2 THEN
    RAISE EXCEPTION 'stock is changed by an entry of the shelf, not by itself';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER "JarBatch_by_entries_alone" BEFORE UPDATE OF "stock" ON "JarBatch"
  FOR EACH ROW WHEN (OLD."stock" IS DISTINCT FROM NEW."stock") EXECUTE FUNCTION "stock_by_entries_alone"();
CREATE FUNCTION "jar_batch_begins_empty"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF NEW."stock" <> 0 THEN
    RAISE EXCEPTION 'jars are put on the shelf by an entry';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER "JarBatch_begins_empty" BEFORE INSERT ON "JarBatch"
  FOR EACH ROW EXECUTE FUNCTION "jar_batch_begins_empty"();

-- Supplies likewise; what a new one comes with becomes its first entry.
CREATE TRIGGER "Supply_by_entries_alone" BEFORE UPDATE OF "onHand" ON "Supply"
  FOR EACH ROW WHEN (OLD."onHand" IS DISTINCT FROM NEW."onHand") EXECUTE FUNCTION "stock_by_entries_alone"();
CREATE FUNCTION "supply_comes_with_an_entry"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  UPDATE "Supply" SET "onHand" = 0 WHERE "coopId" = NEW."coopId" AND "id" = NEW."id";
  INSERT INTO "ShelfEntry" ("coopId", "id", "at", "supplyId", "kind", "units", "by", "note")
    VALUES (NEW."coopId", gen_random_uuid()::text, now(), NEW."id", 'count', NEW."onHand", 'the service', 'on hand when it was added');
  RETURN NULL;
END $$;
CREATE TRIGGER "Supply_comes_with_an_entry" AFTER INSERT ON "Supply"
  FOR EACH ROW WHEN (NEW."onHand" > 0) EXECUTE FUNCTION "supply_comes_with_an_entry"();

-- What is written in the ledger stays.
CREATE FUNCTION "shelf_entry_stays"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'an entry of the shelf is undone by a counter-entry, never changed or erased';
END $$;
CREATE TRIGGER "ShelfEntry_stays" BEFORE UPDATE OR DELETE ON "ShelfEntry"
  FOR EACH ROW EXECUTE FUNCTION "shelf_entry_stays"();
