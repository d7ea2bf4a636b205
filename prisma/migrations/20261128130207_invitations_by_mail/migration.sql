-- AlterTable
ALTER TABLE "Invitation" ADD COLUMN     "mailing" TEXT;

-- CreateIndex
CREATE INDEX "Change_coopId_at_idx" ON "Change"("coopId", "at");
