-- Drafts are analysed like all others: what happened does not wait for its paperwork.
ALTER TABLE "analysis_rows" DROP COLUMN "state";
