-- CreateTable
CREATE TABLE "Coop" (
    "id" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "town" TEXT NOT NULL,
    "altitudeM" INTEGER NOT NULL,
    "timeZone" TEXT NOT NULL,
    "locale" TEXT NOT NULL,
    "units" TEXT NOT NULL,
    "currency" TEXT NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "Coop_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Household" (
    "coopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "name" TEXT NOT NULL,

    CONSTRAINT "Household_pkey" PRIMARY KEY ("coopId","id")
);

-- CreateTable
CREATE TABLE "Member" (
    "coopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "householdId" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "role" TEXT NOT NULL,

    CONSTRAINT "Member_pkey" PRIMARY KEY ("coopId","id")
);

-- CreateTable
CREATE TABLE "Lot" (
    "coopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "crop" TEXT NOT NULL,
    "variety" TEXT,
    "source" TEXT NOT NULL,
    "broughtBy" TEXT NOT NULL,
    "householdId" TEXT,
    "arrivedOn" DATE NOT NULL,
    "storage" TEXT NOT NULL,
    "weightGrams" INTEGER NOT NULL,
    "weightTyped" TEXT NOT NULL,
    "priceMinor" INTEGER,
    "note" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,
    "closedOn" DATE,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "Lot_pkey" PRIMARY KEY ("coopId","id")
);

-- CreateTable
CREATE TABLE "Sorting" (
    "coopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "lotId" TEXT NOT NULL,
    "sortedOn" DATE NOT NULL,
    "firmGrams" INTEGER NOT NULL,
    "ripeGrams" INTEGER NOT NULL,
    "softGrams" INTEGER NOT NULL,
    "damagedGrams" INTEGER NOT NULL,
    "setAsideGrams" INTEGER NOT NULL,
    "lostGrams" INTEGER NOT NULL,
    "how" TEXT NOT NULL,
    "sortedBy" TEXT NOT NULL,
    "note" TEXT,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "Sorting_pkey" PRIMARY KEY ("coopId","id")
);

-- CreateTable
CREATE TABLE "Recipe" (
    "coopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "method" TEXT NOT NULL,
    "definition" JSONB NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    "retired" BOOLEAN NOT NULL DEFAULT false,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "Recipe_pkey" PRIMARY KEY ("coopId","id")
);

-- CreateTable
CREATE TABLE "WorkDay" (
    "coopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "date" DATE NOT NULL,
    "opensMinute" INTEGER NOT NULL,
    "closesMinute" INTEGER NOT NULL,
    "note" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "WorkDay_pkey" PRIMARY KEY ("coopId","id")
);

-- CreateTable
CREATE TABLE "Equipment" (
    "coopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "count" INTEGER NOT NULL,
    "roomMl" INTEGER,
    "aroundTheClock" BOOLEAN NOT NULL DEFAULT false,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "Equipment_pkey" PRIMARY KEY ("coopId","id")
);

-- CreateTable
CREATE TABLE "EquipmentOut" (
    "coopId" TEXT NOT NULL,
    "equipmentId" TEXT NOT NULL,
    "workDayId" TEXT NOT NULL,

    CONSTRAINT "EquipmentOut_pkey" PRIMARY KEY ("coopId","equipmentId","workDayId")
);

-- CreateTable
CREATE TABLE "Helper" (
    "coopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "ageBand" TEXT NOT NULL,
    "skills" TEXT[],
    "householdId" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "Helper_pkey" PRIMARY KEY ("coopId","id")
);

-- CreateTable
CREATE TABLE "HelperHours" (
    "coopId" TEXT NOT NULL,
    "helperId" TEXT NOT NULL,
    "workDayId" TEXT NOT NULL,
    "fromMinute" INTEGER NOT NULL,
    "toMinute" INTEGER NOT NULL,

    CONSTRAINT "HelperHours_pkey" PRIMARY KEY ("coopId","helperId","workDayId")
);

-- CreateTable
CREATE TABLE "Supply" (
    "coopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "key" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "unit" TEXT NOT NULL,
    "onHand" INTEGER NOT NULL,
    "packSize" INTEGER NOT NULL,
    "packPriceMinor" INTEGER NOT NULL,
    "packsAtMost" INTEGER NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "Supply_pkey" PRIMARY KEY ("coopId","id")
);

-- CreateTable
CREATE TABLE "Outlet" (
    "coopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "rank" INTEGER NOT NULL,
    "capacityGrams" INTEGER,
    "worthPerKgMinor" INTEGER NOT NULL,
    "takesProduce" BOOLEAN NOT NULL,
    "crops" TEXT[],
    "classes" TEXT[],
    "materials" TEXT[],
    "open" BOOLEAN NOT NULL DEFAULT true,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "Outlet_pkey" PRIMARY KEY ("coopId","id")
);

-- CreateTable
CREATE TABLE "Plan" (
    "coopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "budgetMinor" INTEGER,
    "version" INTEGER NOT NULL DEFAULT 1,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "Plan_pkey" PRIMARY KEY ("coopId","id")
);

-- CreateTable
CREATE TABLE "PlanLot" (
    "coopId" TEXT NOT NULL,
    "planId" TEXT NOT NULL,
    "lotId" TEXT NOT NULL,

    CONSTRAINT "PlanLot_pkey" PRIMARY KEY ("coopId","planId","lotId")
);

-- CreateTable
CREATE TABLE "PlanDay" (
    "coopId" TEXT NOT NULL,
    "planId" TEXT NOT NULL,
    "workDayId" TEXT NOT NULL,

    CONSTRAINT "PlanDay_pkey" PRIMARY KEY ("coopId","planId","workDayId")
);

-- CreateTable
CREATE TABLE "Wish" (
    "coopId" TEXT NOT NULL,
    "planId" TEXT NOT NULL,
    "recipeId" TEXT NOT NULL,
    "pack" TEXT NOT NULL,
    "atLeast" INTEGER NOT NULL,
    "about" INTEGER NOT NULL,
    "atMost" INTEGER NOT NULL,
    "matters" INTEGER NOT NULL,

    CONSTRAINT "Wish_pkey" PRIMARY KEY ("coopId","planId","recipeId","pack")
);

-- CreateTable
CREATE TABLE "ClosedOutlet" (
    "coopId" TEXT NOT NULL,
    "planId" TEXT NOT NULL,
    "outletId" TEXT NOT NULL,

    CONSTRAINT "ClosedOutlet_pkey" PRIMARY KEY ("coopId","planId","outletId")
);

-- CreateTable
CREATE TABLE "Division" (
    "coopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "planId" TEXT NOT NULL,
    "number" INTEGER NOT NULL,
    "planVersion" INTEGER NOT NULL,
    "state" TEXT NOT NULL,
    "question" JSONB NOT NULL,
    "answer" JSONB,
    "objective" DOUBLE PRECISION,
    "bound" DOUBLE PRECISION,
    "stopAsked" BOOLEAN NOT NULL DEFAULT false,
    "failure" TEXT,
    "askedBy" TEXT NOT NULL,
    "startedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "finishedAt" TIMESTAMPTZ(3),

    CONSTRAINT "Division_pkey" PRIMARY KEY ("coopId","id")
);

-- CreateTable
CREATE TABLE "Change" (
    "coopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "who" TEXT NOT NULL,
    "noun" TEXT NOT NULL,
    "nounId" TEXT NOT NULL,
    "what" TEXT NOT NULL,

    CONSTRAINT "Change_pkey" PRIMARY KEY ("coopId","id")
);

-- CreateTable
CREATE TABLE "Submission" (
    "coopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "bodyHash" TEXT NOT NULL,
    "path" TEXT NOT NULL,
    "answer" JSONB,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "Submission_pkey" PRIMARY KEY ("coopId","id")
);

-- CreateIndex
CREATE UNIQUE INDEX "Household_coopId_name_key" ON "Household"("coopId", "name");

-- CreateIndex
CREATE INDEX "Lot_coopId_closedOn_arrivedOn_idx" ON "Lot"("coopId", "closedOn", "arrivedOn");

-- CreateIndex
CREATE INDEX "Sorting_coopId_lotId_createdAt_idx" ON "Sorting"("coopId", "lotId", "createdAt");

-- CreateIndex
CREATE UNIQUE INDEX "Recipe_coopId_name_key" ON "Recipe"("coopId", "name");

-- CreateIndex
CREATE UNIQUE INDEX "WorkDay_coopId_date_key" ON "WorkDay"("coopId", "date");

-- CreateIndex
CREATE UNIQUE INDEX "Supply_coopId_key_key" ON "Supply"("coopId", "key");

-- CreateIndex
CREATE UNIQUE INDEX "Division_coopId_planId_number_key" ON "Division"("coopId", "planId", "number");

-- CreateIndex
CREATE INDEX "Change_coopId_noun_nounId_at_idx" ON "Change"("coopId", "noun", "nounId", "at");

-- AddForeignKey
ALTER TABLE "Household" ADD CONSTRAINT "Household_coopId_fkey" FOREIGN KEY ("coopId") REFERENCES "Coop"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Member" ADD CONSTRAINT "Member_coopId_fkey" FOREIGN KEY ("coopId") REFERENCES "Coop"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Member" ADD CONSTRAINT "Member_coopId_householdId_fkey" FOREIGN KEY ("coopId", "householdId") REFERENCES "Household"("coopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Lot" ADD CONSTRAINT "Lot_coopId_fkey" FOREIGN KEY ("coopId") REFERENCES "Coop"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Lot" ADD CONSTRAINT "Lot_coopId_householdId_fkey" FOREIGN KEY ("coopId", "householdId") REFERENCES "Household"("coopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Sorting" ADD CONSTRAINT "Sorting_coopId_lotId_fkey" FOREIGN KEY ("coopId", "lotId") REFERENCES "Lot"("coopId", "id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Recipe" ADD CONSTRAINT "Recipe_coopId_fkey" FOREIGN KEY ("coopId") REFERENCES "Coop"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "WorkDay" ADD CONSTRAINT "WorkDay_coopId_fkey" FOREIGN KEY ("coopId") REFERENCES "Coop"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Equipment" ADD CONSTRAINT "Equipment_coopId_fkey" FOREIGN KEY ("coopId") REFERENCES "Coop"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "EquipmentOut" ADD CONSTRAINT "EquipmentOut_coopId_equipmentId_fkey" FOREIGN KEY ("coopId", "equipmentId") REFERENCES "Equipment"("coopId", "id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "EquipmentOut" ADD CONSTRAINT "EquipmentOut_coopId_workDayId_fkey" FOREIGN KEY ("coopId", "workDayId") REFERENCES "WorkDay"("coopId", "id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Helper" ADD CONSTRAINT "Helper_coopId_fkey" FOREIGN KEY ("coopId") REFERENCES "Coop"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Helper" ADD CONSTRAINT "Helper_coopId_householdId_fkey" FOREIGN KEY ("coopId", "householdId") REFERENCES "Household"("coopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "HelperHours" ADD CONSTRAINT "HelperHours_coopId_helperId_fkey" FOREIGN KEY ("coopId", "helperId") REFERENCES "Helper"("coopId", "id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "HelperHours" ADD CONSTRAINT "HelperHours_coopId_workDayId_fkey" FOREIGN KEY ("coopId", "workDayId") REFERENCES "WorkDay"("coopId", "id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Supply" ADD CONSTRAINT "Supply_coopId_fkey" FOREIGN KEY ("coopId") REFERENCES "Coop"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Outlet" ADD CONSTRAINT "Outlet_coopId_fkey" FOREIGN KEY ("coopId") REFERENCES "Coop"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Plan" ADD CONSTRAINT "Plan_coopId_fkey" FOREIGN KEY ("coopId") REFERENCES "Coop"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "PlanLot" ADD CONSTRAINT "PlanLot_coopId_planId_fkey" FOREIGN KEY ("coopId", "planId") REFERENCES "Plan"("coopId", "id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "PlanLot" ADD CONSTRAINT "PlanLot_coopId_lotId_fkey" FOREIGN KEY ("coopId", "lotId") REFERENCES "Lot"("coopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "PlanDay" ADD CONSTRAINT "PlanDay_coopId_planId_fkey" FOREIGN KEY ("coopId", "planId") REFERENCES "Plan"("coopId", "id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "PlanDay" ADD CONSTRAINT "PlanDay_coopId_workDayId_fkey" FOREIGN KEY ("coopId", "workDayId") REFERENCES "WorkDay"("coopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Wish" ADD CONSTRAINT "Wish_coopId_planId_fkey" FOREIGN KEY ("coopId", "planId") REFERENCES "Plan"("coopId", "id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Wish" ADD CONSTRAINT "Wish_coopId_recipeId_fkey" FOREIGN KEY ("coopId", "recipeId") REFERENCES "Recipe"("coopId", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ClosedOutlet" ADD CONSTRAINT "ClosedOutlet_coopId_planId_fkey" FOREIGN KEY ("coopId", "planId") REFERENCES "Plan"("coopId", "id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ClosedOutlet" ADD CONSTRAINT "ClosedOutlet_coopId_outletId_fkey" FOREIGN KEY ("coopId", "outletId") REFERENCES "Outlet"("coopId", "id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Division" ADD CONSTRAINT "Division_coopId_planId_fkey" FOREIGN KEY ("coopId", "planId") REFERENCES "Plan"("coopId", "id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Change" ADD CONSTRAINT "Change_coopId_fkey" FOREIGN KEY ("coopId") REFERENCES "Coop"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Submission" ADD CONSTRAINT "Submission_coopId_fkey" FOREIGN KEY ("coopId") REFERENCES "Coop"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
