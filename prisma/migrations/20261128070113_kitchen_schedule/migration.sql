-- AlterTable
ALTER TABLE "Division" ADD COLUMN     "fittedFrom" INTEGER;

-- AlterTable
ALTER TABLE "Equipment" ADD COLUMN     "burners" INTEGER,
ADD COLUMN     "comeUpMinutes" INTEGER,
ADD COLUMN     "coolDownMinutes" INTEGER,
ADD COLUMN     "fromMinute" INTEGER,
ADD COLUMN     "holds" JSONB NOT NULL DEFAULT '{}',
ADD COLUMN     "toMinute" INTEGER;

-- AlterTable
ALTER TABLE "Helper" ADD COLUMN     "dislikes" TEXT[],
ADD COLUMN     "likes" TEXT[],
ADD COLUMN     "speedPercent" INTEGER NOT NULL DEFAULT 100,
ADD COLUMN     "stretchMinutes" INTEGER;

-- CreateTable
CREATE TABLE "HelperBreak" (
    "coopId" TEXT NOT NULL,
    "helperId" TEXT NOT NULL,
    "workDayId" TEXT NOT NULL,
    "fromMinute" INTEGER NOT NULL,
    "toMinute" INTEGER NOT NULL,

    CONSTRAINT "HelperBreak_pkey" PRIMARY KEY ("coopId","helperId","workDayId","fromMinute")
);

-- CreateTable
CREATE TABLE "Timetable" (
    "coopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "planId" TEXT NOT NULL,
    "divisionId" TEXT NOT NULL,
    "number" INTEGER NOT NULL,
    "state" TEXT NOT NULL,
    "question" JSONB NOT NULL,
    "answer" JSONB,
    "progress" TEXT,
    "stopAsked" BOOLEAN NOT NULL DEFAULT false,
    "failure" TEXT,
    "askedBy" TEXT NOT NULL,
    "startedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "finishedAt" TIMESTAMPTZ(3),

    CONSTRAINT "Timetable_pkey" PRIMARY KEY ("coopId","id")
);

-- CreateTable
CREATE TABLE "CalendarLink" (
    "coopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "helperId" TEXT,
    "secretHash" TEXT NOT NULL,
    "madeBy" TEXT NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL,
    "revokedAt" TIMESTAMPTZ(3),
    "readAt" TIMESTAMPTZ(3),

    CONSTRAINT "CalendarLink_pkey" PRIMARY KEY ("coopId","id")
);

-- CreateIndex
CREATE UNIQUE INDEX "Timetable_coopId_planId_number_key" ON "Timetable"("coopId", "planId", "number");

-- CreateIndex
CREATE UNIQUE INDEX "CalendarLink_secretHash_key" ON "CalendarLink"("secretHash");

-- AddForeignKey
ALTER TABLE "HelperBreak" ADD CONSTRAINT "HelperBreak_coopId_helperId_fkey" FOREIGN KEY ("coopId", "helperId") REFERENCES "Helper"("coopId", "id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "HelperBreak" ADD CONSTRAINT "HelperBreak_coopId_workDayId_fkey" FOREIGN KEY ("coopId", "workDayId") REFERENCES "WorkDay"("coopId", "id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Timetable" ADD CONSTRAINT "Timetable_coopId_planId_fkey" FOREIGN KEY ("coopId", "planId") REFERENCES "Plan"("coopId", "id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Timetable" ADD CONSTRAINT "Timetable_coopId_divisionId_fkey" FOREIGN KEY ("coopId", "divisionId") REFERENCES "Division"("coopId", "id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "CalendarLink" ADD CONSTRAINT "CalendarLink_coopId_fkey" FOREIGN KEY ("coopId") REFERENCES "Coop"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "CalendarLink" ADD CONSTRAINT "CalendarLink_coopId_helperId_fkey" FOREIGN KEY ("coopId", "helperId") REFERENCES "Helper"("coopId", "id") ON DELETE CASCADE ON UPDATE CASCADE;
