-- The first batch of a product, written with its jars in one transaction: the product comes before its lines are counted,
-- or what is counted of them falls on no row.
CREATE OR REPLACE FUNCTION "shelf_batch_changed"() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  "b" "Batch" := coalesce(NEW, OLD);
BEGIN
  PERFORM "shelf_totals_lock"("b"."coopId");
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
  PERFORM "shelf_count_line"(j."coopId", j."id") FROM "JarBatch" j
    WHERE j."coopId" = "b"."coopId" AND j."batchId" = "b"."id";
  RETURN NULL;
END $$;

SELECT "shelf_totals_anew"();
