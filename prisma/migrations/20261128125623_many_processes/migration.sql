-- CreateTable
CREATE TABLE "JobHold" (
    "coopId" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "holder" TEXT NOT NULL,
    "until" TIMESTAMPTZ(3) NOT NULL,
    "tries" INTEGER NOT NULL,

    CONSTRAINT "JobHold_pkey" PRIMARY KEY ("coopId","kind","id")
);

-- CreateTable
CREATE TABLE "RateWindow" (
    "key" TEXT NOT NULL,
    "count" INTEGER NOT NULL,
    "endsAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "RateWindow_pkey" PRIMARY KEY ("key")
);

-- CreateIndex
CREATE INDEX "JobHold_until_idx" ON "JobHold"("until");

-- CreateIndex
CREATE INDEX "RateWindow_endsAt_idx" ON "RateWindow"("endsAt");

-- CreateIndex
CREATE INDEX "Division_state_idx" ON "Division"("state");

-- CreateIndex
CREATE INDEX "Timetable_state_idx" ON "Timetable"("state");

-- CreateIndex
CREATE INDEX "TimetableWorth_state_idx" ON "TimetableWorth"("state");

-- Written by hand: counts of a minute need not outlive a crash, and cost no write-ahead log.
ALTER TABLE "RateWindow" SET UNLOGGED;
