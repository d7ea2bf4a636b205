-- CreateTable
CREATE TABLE "TimetableWorth" (
    "coopId" TEXT NOT NULL,
    "timetableId" TEXT NOT NULL,
    "state" TEXT NOT NULL,
    "answer" JSONB,
    "done" INTEGER NOT NULL DEFAULT 0,
    "failure" TEXT,
    "askedBy" TEXT NOT NULL,
    "startedAt" TIMESTAMPTZ(3) NOT NULL,
    "finishedAt" TIMESTAMPTZ(3),

    CONSTRAINT "TimetableWorth_pkey" PRIMARY KEY ("coopId","timetableId")
);

-- AddForeignKey
ALTER TABLE "TimetableWorth" ADD CONSTRAINT "TimetableWorth_coopId_timetableId_fkey" FOREIGN KEY ("coopId", "timetableId") REFERENCES "Timetable"("coopId", "id") ON DELETE CASCADE ON UPDATE CASCADE;
