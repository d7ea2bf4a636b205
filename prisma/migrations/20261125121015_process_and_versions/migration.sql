-- AlterTable
ALTER TABLE "Equipment" ADD COLUMN     "gauge" TEXT,
ADD COLUMN     "insideHeightMm" INTEGER,
ADD COLUMN     "insideWidthMm" INTEGER;

-- AlterTable
ALTER TABLE "Member" ADD COLUMN     "units" TEXT;

-- CreateTable
CREATE TABLE "RecipeVersion" (
    "coopId" TEXT NOT NULL,
    "recipeId" TEXT NOT NULL,
    "version" INTEGER NOT NULL,
    "name" TEXT NOT NULL,
    "method" TEXT NOT NULL,
    "definition" JSONB NOT NULL,
    "changedBy" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "RecipeVersion_pkey" PRIMARY KEY ("coopId","recipeId","version")
);

-- CreateTable
CREATE TABLE "LocalProcess" (
    "coopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "product" TEXT NOT NULL,
    "method" TEXT NOT NULL,
    "pack" TEXT NOT NULL,
    "jars" TEXT[],
    "fromM" INTEGER NOT NULL,
    "toM" INTEGER NOT NULL,
    "minutes" INTEGER NOT NULL,
    "kPa" DOUBLE PRECISION,
    "headspaceMm" DOUBLE PRECISION NOT NULL,
    "acid" TEXT NOT NULL,
    "source" TEXT NOT NULL,
    "notedBy" TEXT NOT NULL,
    "notedOn" DATE NOT NULL,
    "withdrawn" BOOLEAN NOT NULL DEFAULT false,
    "version" INTEGER NOT NULL DEFAULT 1,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "LocalProcess_pkey" PRIMARY KEY ("coopId","id")
);

-- AddForeignKey
ALTER TABLE "RecipeVersion" ADD CONSTRAINT "RecipeVersion_coopId_recipeId_fkey" FOREIGN KEY ("coopId", "recipeId") REFERENCES "Recipe"("coopId", "id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "LocalProcess" ADD CONSTRAINT "LocalProcess_coopId_fkey" FOREIGN KEY ("coopId") REFERENCES "Coop"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- Recipes that were there before versions were kept stand as they are now.
INSERT INTO "RecipeVersion" ("coopId", "recipeId", "version", "name", "method", "definition", "changedBy", "at")
SELECT "coopId", "id", "version", "name", "method", "definition", 'not noted', "createdAt" FROM "Recipe";
