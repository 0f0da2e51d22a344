-- A recurrence score asks for the area of the left atrium per body surface; it is never computed from another size.
ALTER TABLE "baselines"
  ADD COLUMN "la_area_index_cm2_m2" DECIMAL(4,1),
  ADD CONSTRAINT "baselines_la_area_possible" CHECK (la_area_index_cm2_m2 BETWEEN 3 AND 60);
