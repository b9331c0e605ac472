CREATE INDEX "access_mark_person" ON "access_mark" ("person")
CREATE INDEX "addendum_visit" ON "addendum" ("visit")
CREATE INDEX "answer_system" ON "answer" ("system")
CREATE INDEX "answer_visit" ON "answer" ("visit")
CREATE INDEX "attempt_recheck" ON "attempt" ("recheck")
CREATE INDEX "charge_invoice" ON "charge" ("invoice")
CREATE INDEX "charge_visit" ON "charge" ("visit")
CREATE INDEX "client_name" ON "client" ("name")
CREATE INDEX "day_mark_day" ON "day_mark" ("day")
CREATE INDEX "delivery_document" ON "delivery" ("document")
CREATE INDEX "delivery_visit" ON "delivery" ("visit")
CREATE INDEX "depth_mark_handling" ON "depth_mark" ("handling")
CREATE INDEX "depth_mark_visit" ON "depth_mark" ("visit")
CREATE INDEX "document_client" ON "document" ("client")
CREATE INDEX "document_visit" ON "document" ("visit")
CREATE INDEX "edit_clock" ON "edit" ("clock")
CREATE UNIQUE INDEX "edit_device_count" ON "edit" ("device", "count")
CREATE INDEX "edit_line_in_table_row" ON "edit_line" ("in_table", "row")
CREATE INDEX "edit_reverses" ON "edit" ("reverses")
CREATE INDEX "edit_visit" ON "edit" ("visit")
CREATE INDEX "feed_step_system" ON "feed_step" ("system")
CREATE INDEX "feed_step_visit" ON "feed_step" ("visit")
CREATE INDEX "feeding_system" ON "feeding" ("system")
CREATE INDEX "feeding_visit" ON "feeding" ("visit")
CREATE INDEX "figure_visit" ON "figure" ("visit")
CREATE INDEX "finding_slide" ON "finding" ("slide")
CREATE INDEX "finding_visit" ON "finding" ("visit")
CREATE INDEX "fish_group_system" ON "fish_group" ("system")
CREATE INDEX "food_system" ON "food" ("system")
CREATE INDEX "food_visit" ON "food" ("visit")
CREATE INDEX "handling_group" ON "handling" ("group")
CREATE INDEX "handling_system" ON "handling" ("system")
CREATE INDEX "handling_visit" ON "handling" ("visit")
CREATE INDEX "hold_client" ON "hold" ("client")
CREATE INDEX "hold_visit" ON "hold" ("visit")
CREATE INDEX "invoice_client" ON "invoice" ("client")
CREATE INDEX "invoice_number" ON "invoice" ("number")
CREATE INDEX "invoice_visit" ON "invoice" ("visit")
CREATE INDEX "lesion_handling" ON "lesion" ("handling")
CREATE INDEX "lesion_visit" ON "lesion" ("visit")
CREATE INDEX "loss_system" ON "loss" ("system")
CREATE INDEX "loss_visit" ON "loss" ("visit")
CREATE INDEX "lot_product" ON "lot" ("product")
CREATE INDEX "medicine_read_medicine" ON "medicine_read" ("medicine")
CREATE INDEX "move_from_system" ON "move" ("from_system")
CREATE INDEX "move_group" ON "move" ("group")
CREATE INDEX "move_to_system" ON "move" ("to_system")
CREATE INDEX "move_visit" ON "move" ("visit")
CREATE INDEX "own_medicine_name" ON "own_medicine" ("name")
CREATE INDEX "owner_step_visit" ON "owner_step" ("visit")
CREATE INDEX "owner_told_result" ON "owner_told" ("result")
CREATE INDEX "owner_told_visit" ON "owner_told" ("visit")
CREATE INDEX "payment_client" ON "payment" ("client")
CREATE INDEX "payment_visit" ON "payment" ("visit")
CREATE INDEX "price_code" ON "price" ("code")
CREATE INDEX "problem_client" ON "problem" ("client")
CREATE INDEX "problem_state_problem" ON "problem_state" ("problem")
CREATE INDEX "problem_state_visit" ON "problem_state" ("visit")
CREATE INDEX "problem_system" ON "problem" ("system")
CREATE INDEX "problem_visit" ON "problem" ("visit")
CREATE INDEX "product_medicine" ON "product" ("medicine")
CREATE INDEX "proposed_visit" ON "proposed" ("visit")
CREATE INDEX "reading_analyte" ON "reading" ("analyte")
CREATE INDEX "reading_system" ON "reading" ("system")
CREATE INDEX "reading_visit" ON "reading" ("visit")
CREATE INDEX "reading_visit_system" ON "reading" ("visit", "system")
CREATE INDEX "recheck_booked" ON "recheck" ("booked")
CREATE INDEX "recheck_client" ON "recheck" ("client")
CREATE INDEX "recheck_system" ON "recheck" ("system")
CREATE INDEX "recheck_target" ON "recheck" ("target")
CREATE INDEX "recheck_visit" ON "recheck" ("visit")
CREATE INDEX "sample_handling" ON "sample" ("handling")
CREATE INDEX "sample_system" ON "sample" ("system")
CREATE INDEX "sample_visit" ON "sample" ("visit")
CREATE INDEX "sent_test_system" ON "sent_test" ("system")
CREATE INDEX "sent_test_visit" ON "sent_test" ("visit")
CREATE INDEX "setting_key" ON "setting" ("key")
CREATE INDEX "sign_system" ON "sign" ("system")
CREATE INDEX "sign_visit" ON "sign" ("visit")
CREATE INDEX "signature_visit" ON "signature" ("visit")
CREATE INDEX "site_client" ON "site" ("client")
CREATE INDEX "slide_sample" ON "slide" ("sample")
CREATE INDEX "slide_visit" ON "slide" ("visit")
CREATE INDEX "stage_mark_visit" ON "stage_mark" ("visit")
CREATE INDEX "stock_line_lot" ON "stock_line" ("lot")
CREATE INDEX "stock_line_visit" ON "stock_line" ("visit")
CREATE INDEX "system_site" ON "system" ("site")
CREATE INDEX "test_result_test" ON "test_result" ("test")
CREATE INDEX "test_result_visit" ON "test_result" ("visit")
CREATE INDEX "treatment_handling" ON "treatment" ("handling")
CREATE INDEX "treatment_system" ON "treatment" ("system")
CREATE INDEX "treatment_visit" ON "treatment" ("visit")
CREATE INDEX "trial_run_treatment" ON "trial_run" ("treatment")
CREATE INDEX "trial_run_visit" ON "trial_run" ("visit")
CREATE INDEX "tried_system" ON "tried" ("system")
CREATE INDEX "tried_visit" ON "tried" ("visit")
CREATE INDEX "visit_client" ON "visit" ("client")
CREATE INDEX "visit_day" ON "visit" ("day")
CREATE INDEX "visit_site" ON "visit" ("site")
CREATE INDEX "visit_site_day" ON "visit" ("site", "day", "starts")
CREATE INDEX "visit_system" ON "visit" ("system")
CREATE INDEX "weighing_group" ON "weighing" ("group")
CREATE INDEX "weighing_system" ON "weighing" ("system")
CREATE INDEX "weighing_visit" ON "weighing" ("visit")
CREATE TABLE "access_mark" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "person" TEXT NOT NULL REFERENCES "person" ("id"), "what" TEXT NOT NULL, "by" TEXT NOT NULL REFERENCES "person" ("id"), "at" TEXT NOT NULL)
CREATE TABLE "addendum" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "visit" TEXT NOT NULL REFERENCES "visit" ("id"), "words" TEXT NOT NULL, "why" TEXT NOT NULL, "by" TEXT NOT NULL REFERENCES "person" ("id"), "at" TEXT NOT NULL)
CREATE TABLE "answer" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "visit" TEXT NOT NULL REFERENCES "visit" ("id"), "system" TEXT NOT NULL REFERENCES "system" ("id"), "question" TEXT NOT NULL, "state" TEXT NOT NULL, "value" TEXT NOT NULL, "told_by" TEXT NOT NULL, "at" TEXT NOT NULL)
CREATE TABLE "attempt" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "recheck" TEXT NOT NULL REFERENCES "recheck" ("id"), "result" TEXT NOT NULL, "by" TEXT NOT NULL REFERENCES "person" ("id"), "at" TEXT NOT NULL)
CREATE TABLE "charge" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "visit" TEXT NOT NULL REFERENCES "visit" ("id"), "position" INTEGER NOT NULL, "code" TEXT NOT NULL, "words" TEXT NOT NULL, "quantity" TEXT NOT NULL, "unit_minor" INTEGER NOT NULL, "tax_class" TEXT NOT NULL, "origins" TEXT NOT NULL, "invoice" TEXT REFERENCES "invoice" ("id"))
CREATE TABLE "client" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "name" TEXT NOT NULL, "phone" TEXT NOT NULL, "email" TEXT NOT NULL, "address" TEXT NOT NULL, "note" TEXT NOT NULL)
CREATE TABLE "day_mark" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "day" TEXT NOT NULL, "line" TEXT NOT NULL, "by" TEXT NOT NULL REFERENCES "person" ("id"), "at" TEXT NOT NULL)
CREATE TABLE "delivery" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "visit" TEXT REFERENCES "visit" ("id"), "document" TEXT NOT NULL REFERENCES "document" ("id"), "how" TEXT NOT NULL, "to" TEXT NOT NULL, "by" TEXT NOT NULL REFERENCES "person" ("id"), "at" TEXT NOT NULL)
CREATE TABLE "depth_mark" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "visit" TEXT NOT NULL REFERENCES "visit" ("id"), "handling" TEXT NOT NULL REFERENCES "handling" ("id"), "event" TEXT NOT NULL, "breaths" REAL, "note" TEXT NOT NULL, "by" TEXT NOT NULL, "at" TEXT NOT NULL)
CREATE TABLE "device" ("id" TEXT NOT NULL PRIMARY KEY, "here" INTEGER NOT NULL, "count" INTEGER NOT NULL, "clock" TEXT NOT NULL, "hash" TEXT NOT NULL)
CREATE TABLE "document" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "visit" TEXT REFERENCES "visit" ("id"), "client" TEXT REFERENCES "client" ("id"), "kind" TEXT NOT NULL, "number" TEXT NOT NULL, "version" INTEGER NOT NULL, "supersedes" TEXT, "file" TEXT NOT NULL, "sha256" TEXT NOT NULL, "content" TEXT NOT NULL, "by" TEXT NOT NULL REFERENCES "person" ("id"), "at" TEXT NOT NULL)
CREATE TABLE "edit" ("id" TEXT NOT NULL PRIMARY KEY, "device" TEXT NOT NULL, "count" INTEGER NOT NULL, "clock" TEXT NOT NULL, "at" TEXT NOT NULL, "who" TEXT NOT NULL, "kind" TEXT NOT NULL, "schema" INTEGER NOT NULL, "visit" TEXT, "reverses" TEXT, "before" TEXT NOT NULL, "hash" TEXT NOT NULL)
CREATE TABLE "edit_line" ("edit" TEXT NOT NULL, "position" INTEGER NOT NULL, "in_table" TEXT NOT NULL, "row" TEXT NOT NULL, "act" TEXT NOT NULL, "change" TEXT NOT NULL, PRIMARY KEY ("edit", "position"))
CREATE TABLE "feed_step" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "visit" TEXT NOT NULL REFERENCES "visit" ("id"), "system" TEXT NOT NULL REFERENCES "system" ("id"), "position" INTEGER NOT NULL, "day" TEXT NOT NULL, "grams" REAL NOT NULL, "gate" TEXT NOT NULL, "kind" TEXT NOT NULL)
CREATE TABLE "feeding" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "visit" TEXT NOT NULL REFERENCES "visit" ("id"), "system" TEXT NOT NULL REFERENCES "system" ("id"), "fed_g" REAL, "fed_typed" TEXT NOT NULL, "every_days" REAL NOT NULL, "target_percent" REAL, "gone_min" REAL, "left_over" INTEGER NOT NULL, "new_deaths" INTEGER, "at" TEXT NOT NULL)
CREATE TABLE "figure" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "visit" TEXT NOT NULL REFERENCES "visit" ("id"), "subject" TEXT NOT NULL, "name" TEXT NOT NULL, "value" REAL NOT NULL, "unit" TEXT NOT NULL, "working" TEXT NOT NULL, "formula" TEXT NOT NULL, "catalogue" TEXT NOT NULL, "at" TEXT NOT NULL)
CREATE TABLE "finding" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "visit" TEXT NOT NULL REFERENCES "visit" ("id"), "slide" TEXT NOT NULL REFERENCES "slide" ("id"), "finding" TEXT NOT NULL, "counts" TEXT NOT NULL, "grade" TEXT NOT NULL, "note" TEXT NOT NULL)
CREATE TABLE "fish_group" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "system" TEXT NOT NULL REFERENCES "system" ("id"), "species" TEXT NOT NULL, "name" TEXT NOT NULL, "single" INTEGER NOT NULL, "count" INTEGER, "tag" TEXT NOT NULL, "stage" TEXT NOT NULL)
CREATE TABLE "food" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "visit" TEXT NOT NULL REFERENCES "visit" ("id"), "system" TEXT NOT NULL REFERENCES "system" ("id"), "name" TEXT NOT NULL, "kind" TEXT NOT NULL, "protein_fraction" REAL, "opened" TEXT, "use_by" TEXT, "sealed" INTEGER NOT NULL, "scoop_g" REAL)
CREATE TABLE "handling" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "visit" TEXT NOT NULL REFERENCES "visit" ("id"), "system" TEXT NOT NULL REFERENCES "system" ("id"), "group" TEXT REFERENCES "fish_group" ("id"), "number" INTEGER NOT NULL, "label" TEXT NOT NULL, "count" INTEGER NOT NULL, "weight_g" REAL, "weight_typed" TEXT NOT NULL, "weight_how" TEXT NOT NULL, "length_cm" REAL, "length_typed" TEXT NOT NULL, "agent" TEXT NOT NULL, "agent_mg_l" REAL, "bath_l" REAL, "note" TEXT NOT NULL, "at" TEXT NOT NULL)
CREATE TABLE "hold" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "client" TEXT NOT NULL REFERENCES "client" ("id"), "visit" TEXT REFERENCES "visit" ("id"), "why" TEXT NOT NULL, "by" TEXT NOT NULL REFERENCES "person" ("id"), "at" TEXT NOT NULL, "ended_why" TEXT NOT NULL, "ended_by" TEXT REFERENCES "person" ("id"), "ended_at" TEXT)
CREATE TABLE "invoice" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "visit" TEXT NOT NULL REFERENCES "visit" ("id"), "client" TEXT NOT NULL REFERENCES "client" ("id"), "number" TEXT NOT NULL, "day" TEXT NOT NULL, "net_minor" INTEGER NOT NULL, "tax_minor" INTEGER NOT NULL, "gross_minor" INTEGER NOT NULL, "by" TEXT NOT NULL REFERENCES "person" ("id"), "at" TEXT NOT NULL)
CREATE TABLE "lesion" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "visit" TEXT NOT NULL REFERENCES "visit" ("id"), "handling" TEXT NOT NULL REFERENCES "handling" ("id"), "kind" TEXT NOT NULL, "place" TEXT NOT NULL, "size_mm" REAL, "note" TEXT NOT NULL)
CREATE TABLE "loss" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "visit" TEXT NOT NULL REFERENCES "visit" ("id"), "system" TEXT NOT NULL REFERENCES "system" ("id"), "group" TEXT REFERENCES "fish_group" ("id"), "day" TEXT, "day_to" TEXT, "number" INTEGER NOT NULL, "note" TEXT NOT NULL)
CREATE TABLE "lot" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "product" TEXT NOT NULL REFERENCES "product" ("id"), "number" TEXT NOT NULL, "expires" TEXT, "opened" TEXT, "place" TEXT NOT NULL)
CREATE TABLE "medicine_read" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "medicine" TEXT NOT NULL, "state" TEXT NOT NULL, "fingerprint" TEXT NOT NULL, "note" TEXT NOT NULL, "by" TEXT NOT NULL REFERENCES "person" ("id"), "at" TEXT NOT NULL)
CREATE TABLE "move" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "visit" TEXT NOT NULL REFERENCES "visit" ("id"), "group" TEXT NOT NULL REFERENCES "fish_group" ("id"), "from_system" TEXT NOT NULL REFERENCES "system" ("id"), "to_system" TEXT NOT NULL REFERENCES "system" ("id"), "number" INTEGER, "at" TEXT NOT NULL, "why" TEXT NOT NULL)
CREATE TABLE "own_medicine" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "name" TEXT NOT NULL, "body" TEXT NOT NULL, "by" TEXT NOT NULL REFERENCES "person" ("id"), "at" TEXT NOT NULL)
CREATE TABLE "owner_step" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "visit" TEXT NOT NULL REFERENCES "visit" ("id"), "position" INTEGER NOT NULL, "kind" TEXT NOT NULL, "words" TEXT NOT NULL, "day" TEXT, "origin" TEXT NOT NULL)
CREATE TABLE "owner_told" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "visit" TEXT NOT NULL REFERENCES "visit" ("id"), "result" TEXT NOT NULL REFERENCES "test_result" ("id"), "how" TEXT NOT NULL, "by" TEXT NOT NULL REFERENCES "person" ("id"), "at" TEXT NOT NULL)
CREATE TABLE "payment" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "visit" TEXT NOT NULL REFERENCES "visit" ("id"), "client" TEXT NOT NULL REFERENCES "client" ("id"), "amount_minor" INTEGER NOT NULL, "how" TEXT NOT NULL, "reference" TEXT NOT NULL, "by" TEXT NOT NULL REFERENCES "person" ("id"), "at" TEXT NOT NULL)
CREATE TABLE "person" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "name" TEXT NOT NULL, "role" TEXT NOT NULL, "licence" TEXT NOT NULL, "active" INTEGER NOT NULL)
CREATE TABLE "practice" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "name" TEXT NOT NULL, "address" TEXT NOT NULL, "phone" TEXT NOT NULL, "email" TEXT NOT NULL, "licence" TEXT NOT NULL, "currency" TEXT NOT NULL, "currency_exponent" INTEGER NOT NULL, "units" TEXT NOT NULL, "paper" TEXT NOT NULL, "zone" TEXT NOT NULL, "tax_rounding" TEXT NOT NULL, "terms" TEXT NOT NULL, "authority" TEXT NOT NULL, "opens" TEXT NOT NULL, "closes" TEXT NOT NULL, "open_days" TEXT NOT NULL, "invented" INTEGER NOT NULL)
CREATE TABLE "price" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "code" TEXT NOT NULL, "name" TEXT NOT NULL, "unit_minor" INTEGER NOT NULL, "tax_class" TEXT NOT NULL)
CREATE TABLE "problem" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "visit" TEXT NOT NULL REFERENCES "visit" ("id"), "client" TEXT NOT NULL REFERENCES "client" ("id"), "system" TEXT NOT NULL REFERENCES "system" ("id"), "group" TEXT REFERENCES "fish_group" ("id"), "problem" TEXT NOT NULL, "words" TEXT NOT NULL)
CREATE TABLE "problem_state" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "visit" TEXT NOT NULL REFERENCES "visit" ("id"), "problem" TEXT NOT NULL REFERENCES "problem" ("id"), "state" TEXT NOT NULL, "why" TEXT NOT NULL, "by" TEXT NOT NULL REFERENCES "person" ("id"), "at" TEXT NOT NULL)
CREATE TABLE "product" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "medicine" TEXT NOT NULL, "name" TEXT NOT NULL, "strength" REAL NOT NULL, "strength_unit" TEXT NOT NULL, "density_g_ml" REAL, "pack" REAL NOT NULL, "pack_unit" TEXT NOT NULL, "price" TEXT NOT NULL, "controlled" INTEGER NOT NULL)
CREATE TABLE "proposed" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "visit" TEXT NOT NULL REFERENCES "visit" ("id"), "kind" TEXT NOT NULL, "words" TEXT NOT NULL, "body" TEXT NOT NULL, "by" TEXT NOT NULL REFERENCES "person" ("id"), "at" TEXT NOT NULL, "outcome" TEXT NOT NULL, "outcome_why" TEXT NOT NULL, "addendum" TEXT REFERENCES "addendum" ("id"), "settled_by" TEXT REFERENCES "person" ("id"), "settled_at" TEXT)
CREATE TABLE "reading" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "visit" TEXT NOT NULL REFERENCES "visit" ("id"), "system" TEXT NOT NULL REFERENCES "system" ("id"), "place" TEXT NOT NULL, "depth_cm" REAL, "analyte" TEXT NOT NULL, "value" REAL NOT NULL, "below" INTEGER NOT NULL, "above" INTEGER NOT NULL, "typed" TEXT NOT NULL, "unit" TEXT NOT NULL, "basis" TEXT NOT NULL, "method" TEXT NOT NULL, "at" TEXT NOT NULL)
CREATE TABLE "recheck" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "visit" TEXT NOT NULL REFERENCES "visit" ("id"), "client" TEXT NOT NULL REFERENCES "client" ("id"), "system" TEXT NOT NULL REFERENCES "system" ("id"), "kind" TEXT NOT NULL, "reason" TEXT NOT NULL, "earliest" TEXT NOT NULL, "target" TEXT NOT NULL, "latest" TEXT NOT NULL, "booked" TEXT, "origin" TEXT NOT NULL, "closed_at" TEXT, "outcome" TEXT NOT NULL)
CREATE TABLE "sample" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "visit" TEXT NOT NULL REFERENCES "visit" ("id"), "system" TEXT NOT NULL REFERENCES "system" ("id"), "handling" TEXT REFERENCES "handling" ("id"), "number" TEXT NOT NULL, "tissue" TEXT NOT NULL, "got" INTEGER NOT NULL, "why" TEXT NOT NULL, "place" TEXT NOT NULL, "at" TEXT NOT NULL)
CREATE TABLE "schema_step" ("number" INTEGER NOT NULL PRIMARY KEY, "at" TEXT NOT NULL)
CREATE TABLE "secret" ("person" TEXT NOT NULL PRIMARY KEY, "pin_hash" TEXT NOT NULL, "recovery_hash" TEXT NOT NULL, "wrong" INTEGER NOT NULL, "wait_until" TEXT)
CREATE TABLE "sent_test" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "visit" TEXT NOT NULL REFERENCES "visit" ("id"), "system" TEXT NOT NULL REFERENCES "system" ("id"), "sample" TEXT REFERENCES "sample" ("id"), "name" TEXT NOT NULL, "where" TEXT NOT NULL, "day" TEXT NOT NULL, "due" TEXT)
CREATE TABLE "setting" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "key" TEXT NOT NULL, "value" TEXT NOT NULL)
CREATE TABLE "sign" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "visit" TEXT NOT NULL REFERENCES "visit" ("id"), "system" TEXT NOT NULL REFERENCES "system" ("id"), "subject" TEXT NOT NULL, "subject_id" TEXT NOT NULL, "sign" TEXT NOT NULL, "state" TEXT NOT NULL, "value" REAL, "note" TEXT NOT NULL, "at" TEXT NOT NULL)
CREATE TABLE "signature" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "visit" TEXT NOT NULL REFERENCES "visit" ("id"), "device" TEXT NOT NULL, "count" INTEGER NOT NULL, "record_hash" TEXT NOT NULL, "before" TEXT NOT NULL, "chain" TEXT NOT NULL, "by" TEXT NOT NULL REFERENCES "person" ("id"), "at" TEXT NOT NULL)
CREATE TABLE "site" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "client" TEXT NOT NULL REFERENCES "client" ("id"), "name" TEXT NOT NULL, "address" TEXT NOT NULL, "access" TEXT NOT NULL, "caution" TEXT NOT NULL, "bring" TEXT NOT NULL, "elevation_m" REAL NOT NULL, "travel_min" INTEGER NOT NULL)
CREATE TABLE "slide" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "visit" TEXT NOT NULL REFERENCES "visit" ("id"), "sample" TEXT NOT NULL REFERENCES "sample" ("id"), "stain" TEXT NOT NULL, "magnification" INTEGER NOT NULL, "fields" INTEGER NOT NULL, "normal" INTEGER NOT NULL, "note" TEXT NOT NULL, "at" TEXT NOT NULL)
CREATE TABLE "stage_mark" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "visit" TEXT NOT NULL REFERENCES "visit" ("id"), "stage" TEXT NOT NULL, "state" TEXT NOT NULL, "why" TEXT NOT NULL)
CREATE TABLE "stock_line" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "lot" TEXT NOT NULL REFERENCES "lot" ("id"), "kind" TEXT NOT NULL, "amount" TEXT NOT NULL, "balance" TEXT NOT NULL, "treatment" TEXT REFERENCES "treatment" ("id"), "handling" TEXT REFERENCES "handling" ("id"), "visit" TEXT REFERENCES "visit" ("id"), "witness" TEXT NOT NULL, "why" TEXT NOT NULL, "by" TEXT NOT NULL REFERENCES "person" ("id"), "at" TEXT NOT NULL)
CREATE TABLE "system" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "site" TEXT NOT NULL REFERENCES "site" ("id"), "name" TEXT NOT NULL, "kind" TEXT NOT NULL, "volume_l" REAL, "volume_typed" TEXT NOT NULL, "volume_how" TEXT NOT NULL, "volume_error_percent" REAL, "flow" TEXT NOT NULL, "flow_l_s" REAL, "food_fish" INTEGER NOT NULL, "plants" TEXT NOT NULL, "invertebrates" TEXT NOT NULL, "zeolite" TEXT NOT NULL, "filter" TEXT NOT NULL, "source_water" TEXT NOT NULL, "note" TEXT NOT NULL)
CREATE TABLE "tax_class" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "code" TEXT NOT NULL, "name" TEXT NOT NULL, "rate_percent" TEXT NOT NULL)
CREATE TABLE "test_result" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "visit" TEXT NOT NULL REFERENCES "visit" ("id"), "test" TEXT NOT NULL REFERENCES "sent_test" ("id"), "value" TEXT NOT NULL, "by" TEXT NOT NULL REFERENCES "person" ("id"), "at" TEXT NOT NULL)
CREATE TABLE "treatment" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "visit" TEXT NOT NULL REFERENCES "visit" ("id"), "system" TEXT NOT NULL REFERENCES "system" ("id"), "group" TEXT REFERENCES "fish_group" ("id"), "handling" TEXT REFERENCES "handling" ("id"), "act" TEXT NOT NULL, "medicine" TEXT NOT NULL, "route" TEXT NOT NULL, "dose" REAL NOT NULL, "dose_unit" TEXT NOT NULL, "amount" REAL NOT NULL, "amount_unit" TEXT NOT NULL, "product" TEXT NOT NULL, "strength" TEXT NOT NULL, "lot" TEXT NOT NULL, "expires" TEXT, "place" TEXT NOT NULL, "repeats" INTEGER NOT NULL, "interval_days" REAL, "directions" TEXT NOT NULL, "withdrawal_until" TEXT, "withdrawal" TEXT NOT NULL, "override" TEXT NOT NULL, "starts" TEXT, "steps" INTEGER NOT NULL, "off_hours" REAL, "by" TEXT NOT NULL REFERENCES "person" ("id"), "at" TEXT NOT NULL)
CREATE TABLE "trial_run" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "visit" TEXT NOT NULL REFERENCES "visit" ("id"), "treatment" TEXT NOT NULL REFERENCES "treatment" ("id"), "fish" INTEGER NOT NULL, "minutes" REAL, "outcome" TEXT NOT NULL, "by" TEXT NOT NULL REFERENCES "person" ("id"), "at" TEXT NOT NULL)
CREATE TABLE "tried" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "visit" TEXT NOT NULL REFERENCES "visit" ("id"), "system" TEXT NOT NULL REFERENCES "system" ("id"), "agent" TEXT NOT NULL, "amount" TEXT NOT NULL, "day" TEXT, "since" TEXT NOT NULL)
CREATE TABLE "visit" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "client" TEXT NOT NULL REFERENCES "client" ("id"), "site" TEXT NOT NULL REFERENCES "site" ("id"), "system" TEXT NOT NULL REFERENCES "system" ("id"), "vet" TEXT NOT NULL REFERENCES "person" ("id"), "day" TEXT NOT NULL, "starts" TEXT NOT NULL, "minutes" INTEGER NOT NULL, "kind" TEXT NOT NULL, "reason" TEXT NOT NULL, "rank" INTEGER NOT NULL, "rank_why" TEXT NOT NULL, "state" TEXT NOT NULL, "why" TEXT NOT NULL, "advice" TEXT NOT NULL, "booked_why" TEXT NOT NULL, "recheck_of" TEXT, "estimate_low_minor" INTEGER, "estimate_high_minor" INTEGER, "estimate_by" TEXT NOT NULL, "estimate_at" TEXT, "signed_at" TEXT, "signed_by" TEXT, "sign_hash" TEXT)
CREATE TABLE "weighing" ("id" TEXT NOT NULL PRIMARY KEY, "struck" TEXT, "visit" TEXT NOT NULL REFERENCES "visit" ("id"), "system" TEXT NOT NULL REFERENCES "system" ("id"), "group" TEXT NOT NULL REFERENCES "fish_group" ("id"), "count" INTEGER, "weight_g" REAL NOT NULL, "length_cm" REAL, "how" TEXT NOT NULL, "typed" TEXT NOT NULL, "count_low" INTEGER, "count_high" INTEGER, "error_percent" REAL, "handling" TEXT REFERENCES "handling" ("id"), "at" TEXT NOT NULL)
CREATE TRIGGER "door_access_mark_delete" BEFORE DELETE ON "access_mark" WHEN NOT (journal_writes('access_mark', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_access_mark_insert" BEFORE INSERT ON "access_mark" WHEN NOT (journal_writes('access_mark', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_access_mark_update" BEFORE UPDATE ON "access_mark" WHEN NOT (journal_writes('access_mark', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_addendum_delete" BEFORE DELETE ON "addendum" WHEN NOT (journal_writes('addendum', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_addendum_insert" BEFORE INSERT ON "addendum" WHEN NOT (journal_writes('addendum', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_addendum_update" BEFORE UPDATE ON "addendum" WHEN NOT (journal_writes('addendum', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_answer_delete" BEFORE DELETE ON "answer" WHEN NOT (journal_writes('answer', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_answer_insert" BEFORE INSERT ON "answer" WHEN NOT (journal_writes('answer', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_answer_update" BEFORE UPDATE ON "answer" WHEN NOT (journal_writes('answer', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_attempt_delete" BEFORE DELETE ON "attempt" WHEN NOT (journal_writes('attempt', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_attempt_insert" BEFORE INSERT ON "attempt" WHEN NOT (journal_writes('attempt', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_attempt_update" BEFORE UPDATE ON "attempt" WHEN NOT (journal_writes('attempt', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_charge_delete" BEFORE DELETE ON "charge" WHEN NOT (journal_writes('charge', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_charge_insert" BEFORE INSERT ON "charge" WHEN NOT (journal_writes('charge', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_charge_update" BEFORE UPDATE ON "charge" WHEN NOT (journal_writes('charge', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_client_delete" BEFORE DELETE ON "client" WHEN NOT (journal_writes('client', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_client_insert" BEFORE INSERT ON "client" WHEN NOT (journal_writes('client', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_client_update" BEFORE UPDATE ON "client" WHEN NOT (journal_writes('client', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_day_mark_delete" BEFORE DELETE ON "day_mark" WHEN NOT (journal_writes('day_mark', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_day_mark_insert" BEFORE INSERT ON "day_mark" WHEN NOT (journal_writes('day_mark', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_day_mark_update" BEFORE UPDATE ON "day_mark" WHEN NOT (journal_writes('day_mark', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_delivery_delete" BEFORE DELETE ON "delivery" WHEN NOT (journal_writes('delivery', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_delivery_insert" BEFORE INSERT ON "delivery" WHEN NOT (journal_writes('delivery', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_delivery_update" BEFORE UPDATE ON "delivery" WHEN NOT (journal_writes('delivery', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_depth_mark_delete" BEFORE DELETE ON "depth_mark" WHEN NOT (journal_writes('depth_mark', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_depth_mark_insert" BEFORE INSERT ON "depth_mark" WHEN NOT (journal_writes('depth_mark', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_depth_mark_update" BEFORE UPDATE ON "depth_mark" WHEN NOT (journal_writes('depth_mark', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_document_delete" BEFORE DELETE ON "document" WHEN NOT (journal_writes('document', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_document_insert" BEFORE INSERT ON "document" WHEN NOT (journal_writes('document', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_document_update" BEFORE UPDATE ON "document" WHEN NOT (journal_writes('document', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_edit_insert" BEFORE INSERT ON "edit" WHEN NOT (journal_writes('edit', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_edit_line_insert" BEFORE INSERT ON "edit_line" WHEN NOT (journal_writes('edit_line', NEW."edit", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_feed_step_delete" BEFORE DELETE ON "feed_step" WHEN NOT (journal_writes('feed_step', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_feed_step_insert" BEFORE INSERT ON "feed_step" WHEN NOT (journal_writes('feed_step', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_feed_step_update" BEFORE UPDATE ON "feed_step" WHEN NOT (journal_writes('feed_step', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_feeding_delete" BEFORE DELETE ON "feeding" WHEN NOT (journal_writes('feeding', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_feeding_insert" BEFORE INSERT ON "feeding" WHEN NOT (journal_writes('feeding', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_feeding_update" BEFORE UPDATE ON "feeding" WHEN NOT (journal_writes('feeding', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_figure_delete" BEFORE DELETE ON "figure" WHEN NOT (journal_writes('figure', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_figure_insert" BEFORE INSERT ON "figure" WHEN NOT (journal_writes('figure', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_figure_update" BEFORE UPDATE ON "figure" WHEN NOT (journal_writes('figure', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_finding_delete" BEFORE DELETE ON "finding" WHEN NOT (journal_writes('finding', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_finding_insert" BEFORE INSERT ON "finding" WHEN NOT (journal_writes('finding', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_finding_update" BEFORE UPDATE ON "finding" WHEN NOT (journal_writes('finding', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_fish_group_delete" BEFORE DELETE ON "fish_group" WHEN NOT (journal_writes('fish_group', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_fish_group_insert" BEFORE INSERT ON "fish_group" WHEN NOT (journal_writes('fish_group', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_fish_group_update" BEFORE UPDATE ON "fish_group" WHEN NOT (journal_writes('fish_group', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_food_delete" BEFORE DELETE ON "food" WHEN NOT (journal_writes('food', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_food_insert" BEFORE INSERT ON "food" WHEN NOT (journal_writes('food', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_food_update" BEFORE UPDATE ON "food" WHEN NOT (journal_writes('food', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_handling_delete" BEFORE DELETE ON "handling" WHEN NOT (journal_writes('handling', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_handling_insert" BEFORE INSERT ON "handling" WHEN NOT (journal_writes('handling', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_handling_update" BEFORE UPDATE ON "handling" WHEN NOT (journal_writes('handling', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_hold_delete" BEFORE DELETE ON "hold" WHEN NOT (journal_writes('hold', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_hold_insert" BEFORE INSERT ON "hold" WHEN NOT (journal_writes('hold', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_hold_update" BEFORE UPDATE ON "hold" WHEN NOT (journal_writes('hold', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_invoice_delete" BEFORE DELETE ON "invoice" WHEN NOT (journal_writes('invoice', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_invoice_insert" BEFORE INSERT ON "invoice" WHEN NOT (journal_writes('invoice', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_invoice_update" BEFORE UPDATE ON "invoice" WHEN NOT (journal_writes('invoice', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_lesion_delete" BEFORE DELETE ON "lesion" WHEN NOT (journal_writes('lesion', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_lesion_insert" BEFORE INSERT ON "lesion" WHEN NOT (journal_writes('lesion', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_lesion_update" BEFORE UPDATE ON "lesion" WHEN NOT (journal_writes('lesion', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_loss_delete" BEFORE DELETE ON "loss" WHEN NOT (journal_writes('loss', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_loss_insert" BEFORE INSERT ON "loss" WHEN NOT (journal_writes('loss', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_loss_update" BEFORE UPDATE ON "loss" WHEN NOT (journal_writes('loss', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_lot_delete" BEFORE DELETE ON "lot" WHEN NOT (journal_writes('lot', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_lot_insert" BEFORE INSERT ON "lot" WHEN NOT (journal_writes('lot', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_lot_update" BEFORE UPDATE ON "lot" WHEN NOT (journal_writes('lot', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_medicine_read_delete" BEFORE DELETE ON "medicine_read" WHEN NOT (journal_writes('medicine_read', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_medicine_read_insert" BEFORE INSERT ON "medicine_read" WHEN NOT (journal_writes('medicine_read', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_medicine_read_update" BEFORE UPDATE ON "medicine_read" WHEN NOT (journal_writes('medicine_read', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_move_delete" BEFORE DELETE ON "move" WHEN NOT (journal_writes('move', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_move_insert" BEFORE INSERT ON "move" WHEN NOT (journal_writes('move', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_move_update" BEFORE UPDATE ON "move" WHEN NOT (journal_writes('move', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_own_medicine_delete" BEFORE DELETE ON "own_medicine" WHEN NOT (journal_writes('own_medicine', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_own_medicine_insert" BEFORE INSERT ON "own_medicine" WHEN NOT (journal_writes('own_medicine', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_own_medicine_update" BEFORE UPDATE ON "own_medicine" WHEN NOT (journal_writes('own_medicine', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_owner_step_delete" BEFORE DELETE ON "owner_step" WHEN NOT (journal_writes('owner_step', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_owner_step_insert" BEFORE INSERT ON "owner_step" WHEN NOT (journal_writes('owner_step', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_owner_step_update" BEFORE UPDATE ON "owner_step" WHEN NOT (journal_writes('owner_step', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_owner_told_delete" BEFORE DELETE ON "owner_told" WHEN NOT (journal_writes('owner_told', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_owner_told_insert" BEFORE INSERT ON "owner_told" WHEN NOT (journal_writes('owner_told', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_owner_told_update" BEFORE UPDATE ON "owner_told" WHEN NOT (journal_writes('owner_told', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_payment_delete" BEFORE DELETE ON "payment" WHEN NOT (journal_writes('payment', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_payment_insert" BEFORE INSERT ON "payment" WHEN NOT (journal_writes('payment', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_payment_update" BEFORE UPDATE ON "payment" WHEN NOT (journal_writes('payment', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_person_delete" BEFORE DELETE ON "person" WHEN NOT (journal_writes('person', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_person_insert" BEFORE INSERT ON "person" WHEN NOT (journal_writes('person', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_person_update" BEFORE UPDATE ON "person" WHEN NOT (journal_writes('person', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_practice_delete" BEFORE DELETE ON "practice" WHEN NOT (journal_writes('practice', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_practice_insert" BEFORE INSERT ON "practice" WHEN NOT (journal_writes('practice', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_practice_update" BEFORE UPDATE ON "practice" WHEN NOT (journal_writes('practice', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_price_delete" BEFORE DELETE ON "price" WHEN NOT (journal_writes('price', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_price_insert" BEFORE INSERT ON "price" WHEN NOT (journal_writes('price', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_price_update" BEFORE UPDATE ON "price" WHEN NOT (journal_writes('price', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_problem_delete" BEFORE DELETE ON "problem" WHEN NOT (journal_writes('problem', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_problem_insert" BEFORE INSERT ON "problem" WHEN NOT (journal_writes('problem', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_problem_state_delete" BEFORE DELETE ON "problem_state" WHEN NOT (journal_writes('problem_state', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_problem_state_insert" BEFORE INSERT ON "problem_state" WHEN NOT (journal_writes('problem_state', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_problem_state_update" BEFORE UPDATE ON "problem_state" WHEN NOT (journal_writes('problem_state', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_problem_update" BEFORE UPDATE ON "problem" WHEN NOT (journal_writes('problem', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_product_delete" BEFORE DELETE ON "product" WHEN NOT (journal_writes('product', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_product_insert" BEFORE INSERT ON "product" WHEN NOT (journal_writes('product', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_product_update" BEFORE UPDATE ON "product" WHEN NOT (journal_writes('product', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_proposed_delete" BEFORE DELETE ON "proposed" WHEN NOT (journal_writes('proposed', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_proposed_insert" BEFORE INSERT ON "proposed" WHEN NOT (journal_writes('proposed', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_proposed_update" BEFORE UPDATE ON "proposed" WHEN NOT (journal_writes('proposed', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_reading_delete" BEFORE DELETE ON "reading" WHEN NOT (journal_writes('reading', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_reading_insert" BEFORE INSERT ON "reading" WHEN NOT (journal_writes('reading', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_reading_update" BEFORE UPDATE ON "reading" WHEN NOT (journal_writes('reading', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_recheck_delete" BEFORE DELETE ON "recheck" WHEN NOT (journal_writes('recheck', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_recheck_insert" BEFORE INSERT ON "recheck" WHEN NOT (journal_writes('recheck', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_recheck_update" BEFORE UPDATE ON "recheck" WHEN NOT (journal_writes('recheck', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_sample_delete" BEFORE DELETE ON "sample" WHEN NOT (journal_writes('sample', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_sample_insert" BEFORE INSERT ON "sample" WHEN NOT (journal_writes('sample', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_sample_update" BEFORE UPDATE ON "sample" WHEN NOT (journal_writes('sample', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_sent_test_delete" BEFORE DELETE ON "sent_test" WHEN NOT (journal_writes('sent_test', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_sent_test_insert" BEFORE INSERT ON "sent_test" WHEN NOT (journal_writes('sent_test', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_sent_test_update" BEFORE UPDATE ON "sent_test" WHEN NOT (journal_writes('sent_test', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_setting_delete" BEFORE DELETE ON "setting" WHEN NOT (journal_writes('setting', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_setting_insert" BEFORE INSERT ON "setting" WHEN NOT (journal_writes('setting', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_setting_update" BEFORE UPDATE ON "setting" WHEN NOT (journal_writes('setting', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_sign_delete" BEFORE DELETE ON "sign" WHEN NOT (journal_writes('sign', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_sign_insert" BEFORE INSERT ON "sign" WHEN NOT (journal_writes('sign', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_sign_update" BEFORE UPDATE ON "sign" WHEN NOT (journal_writes('sign', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_signature_delete" BEFORE DELETE ON "signature" WHEN NOT (journal_writes('signature', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_signature_insert" BEFORE INSERT ON "signature" WHEN NOT (journal_writes('signature', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_signature_update" BEFORE UPDATE ON "signature" WHEN NOT (journal_writes('signature', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_site_delete" BEFORE DELETE ON "site" WHEN NOT (journal_writes('site', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_site_insert" BEFORE INSERT ON "site" WHEN NOT (journal_writes('site', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_site_update" BEFORE UPDATE ON "site" WHEN NOT (journal_writes('site', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_slide_delete" BEFORE DELETE ON "slide" WHEN NOT (journal_writes('slide', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_slide_insert" BEFORE INSERT ON "slide" WHEN NOT (journal_writes('slide', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_slide_update" BEFORE UPDATE ON "slide" WHEN NOT (journal_writes('slide', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_stage_mark_delete" BEFORE DELETE ON "stage_mark" WHEN NOT (journal_writes('stage_mark', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_stage_mark_insert" BEFORE INSERT ON "stage_mark" WHEN NOT (journal_writes('stage_mark', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_stage_mark_update" BEFORE UPDATE ON "stage_mark" WHEN NOT (journal_writes('stage_mark', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_stock_line_delete" BEFORE DELETE ON "stock_line" WHEN NOT (journal_writes('stock_line', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_stock_line_insert" BEFORE INSERT ON "stock_line" WHEN NOT (journal_writes('stock_line', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_stock_line_update" BEFORE UPDATE ON "stock_line" WHEN NOT (journal_writes('stock_line', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_system_delete" BEFORE DELETE ON "system" WHEN NOT (journal_writes('system', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_system_insert" BEFORE INSERT ON "system" WHEN NOT (journal_writes('system', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_system_update" BEFORE UPDATE ON "system" WHEN NOT (journal_writes('system', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_tax_class_delete" BEFORE DELETE ON "tax_class" WHEN NOT (journal_writes('tax_class', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_tax_class_insert" BEFORE INSERT ON "tax_class" WHEN NOT (journal_writes('tax_class', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_tax_class_update" BEFORE UPDATE ON "tax_class" WHEN NOT (journal_writes('tax_class', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_test_result_delete" BEFORE DELETE ON "test_result" WHEN NOT (journal_writes('test_result', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_test_result_insert" BEFORE INSERT ON "test_result" WHEN NOT (journal_writes('test_result', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_test_result_update" BEFORE UPDATE ON "test_result" WHEN NOT (journal_writes('test_result', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_treatment_delete" BEFORE DELETE ON "treatment" WHEN NOT (journal_writes('treatment', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_treatment_insert" BEFORE INSERT ON "treatment" WHEN NOT (journal_writes('treatment', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_treatment_update" BEFORE UPDATE ON "treatment" WHEN NOT (journal_writes('treatment', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_trial_run_delete" BEFORE DELETE ON "trial_run" WHEN NOT (journal_writes('trial_run', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_trial_run_insert" BEFORE INSERT ON "trial_run" WHEN NOT (journal_writes('trial_run', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_trial_run_update" BEFORE UPDATE ON "trial_run" WHEN NOT (journal_writes('trial_run', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_tried_delete" BEFORE DELETE ON "tried" WHEN NOT (journal_writes('tried', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_tried_insert" BEFORE INSERT ON "tried" WHEN NOT (journal_writes('tried', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_tried_update" BEFORE UPDATE ON "tried" WHEN NOT (journal_writes('tried', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_visit_delete" BEFORE DELETE ON "visit" WHEN NOT (journal_writes('visit', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_visit_insert" BEFORE INSERT ON "visit" WHEN NOT (journal_writes('visit', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_visit_update" BEFORE UPDATE ON "visit" WHEN NOT (journal_writes('visit', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_weighing_delete" BEFORE DELETE ON "weighing" WHEN NOT (journal_writes('weighing', OLD."id", 'remove') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_weighing_insert" BEFORE INSERT ON "weighing" WHEN NOT (journal_writes('weighing', NEW."id", 'add') = 1) BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "door_weighing_update" BEFORE UPDATE ON "weighing" WHEN NOT (journal_writes('weighing', OLD."id", 'change') = 1 AND NEW."id" = OLD."id") BEGIN SELECT RAISE(ABORT, 'finrounds: a write beside the journal'); END
CREATE TRIGGER "grows_access_mark_update" BEFORE UPDATE ON "access_mark" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: these rows are only added'); END
CREATE TRIGGER "grows_addendum_update" BEFORE UPDATE ON "addendum" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: these rows are only added'); END
CREATE TRIGGER "grows_attempt_update" BEFORE UPDATE ON "attempt" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: these rows are only added'); END
CREATE TRIGGER "grows_delivery_update" BEFORE UPDATE ON "delivery" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: these rows are only added'); END
CREATE TRIGGER "grows_document_update" BEFORE UPDATE ON "document" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: these rows are only added'); END
CREATE TRIGGER "grows_edit_delete" BEFORE DELETE ON "edit" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: these rows are only added'); END
CREATE TRIGGER "grows_edit_line_delete" BEFORE DELETE ON "edit_line" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: these rows are only added'); END
CREATE TRIGGER "grows_edit_line_update" BEFORE UPDATE ON "edit_line" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: these rows are only added'); END
CREATE TRIGGER "grows_edit_update" BEFORE UPDATE ON "edit" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: these rows are only added'); END
CREATE TRIGGER "grows_invoice_update" BEFORE UPDATE ON "invoice" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: these rows are only added'); END
CREATE TRIGGER "grows_medicine_read_update" BEFORE UPDATE ON "medicine_read" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: these rows are only added'); END
CREATE TRIGGER "grows_owner_told_update" BEFORE UPDATE ON "owner_told" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: these rows are only added'); END
CREATE TRIGGER "grows_payment_update" BEFORE UPDATE ON "payment" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: these rows are only added'); END
CREATE TRIGGER "grows_signature_update" BEFORE UPDATE ON "signature" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: these rows are only added'); END
CREATE TRIGGER "grows_stock_line_update" BEFORE UPDATE ON "stock_line" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: these rows are only added'); END
CREATE TRIGGER "grows_test_result_update" BEFORE UPDATE ON "test_result" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: these rows are only added'); END
CREATE TRIGGER "invoiced_charge_update" BEFORE UPDATE ON "charge" WHEN OLD."invoice" IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the line stands on an issued invoice'); END
CREATE TRIGGER "kept_access_mark_delete" BEFORE DELETE ON "access_mark" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_addendum_delete" BEFORE DELETE ON "addendum" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_answer_delete" BEFORE DELETE ON "answer" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_attempt_delete" BEFORE DELETE ON "attempt" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_charge_delete" BEFORE DELETE ON "charge" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_client_delete" BEFORE DELETE ON "client" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_day_mark_delete" BEFORE DELETE ON "day_mark" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_delivery_delete" BEFORE DELETE ON "delivery" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_depth_mark_delete" BEFORE DELETE ON "depth_mark" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_document_delete" BEFORE DELETE ON "document" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_feed_step_delete" BEFORE DELETE ON "feed_step" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_feeding_delete" BEFORE DELETE ON "feeding" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_figure_delete" BEFORE DELETE ON "figure" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_finding_delete" BEFORE DELETE ON "finding" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_fish_group_delete" BEFORE DELETE ON "fish_group" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_food_delete" BEFORE DELETE ON "food" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_handling_delete" BEFORE DELETE ON "handling" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_hold_delete" BEFORE DELETE ON "hold" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_invoice_delete" BEFORE DELETE ON "invoice" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_lesion_delete" BEFORE DELETE ON "lesion" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_loss_delete" BEFORE DELETE ON "loss" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_lot_delete" BEFORE DELETE ON "lot" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_medicine_read_delete" BEFORE DELETE ON "medicine_read" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_move_delete" BEFORE DELETE ON "move" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_own_medicine_delete" BEFORE DELETE ON "own_medicine" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_owner_step_delete" BEFORE DELETE ON "owner_step" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_owner_told_delete" BEFORE DELETE ON "owner_told" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_payment_delete" BEFORE DELETE ON "payment" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_person_delete" BEFORE DELETE ON "person" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_practice_delete" BEFORE DELETE ON "practice" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_price_delete" BEFORE DELETE ON "price" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_problem_delete" BEFORE DELETE ON "problem" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_problem_state_delete" BEFORE DELETE ON "problem_state" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_product_delete" BEFORE DELETE ON "product" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_proposed_delete" BEFORE DELETE ON "proposed" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_reading_delete" BEFORE DELETE ON "reading" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_recheck_delete" BEFORE DELETE ON "recheck" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_sample_delete" BEFORE DELETE ON "sample" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_sent_test_delete" BEFORE DELETE ON "sent_test" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_setting_delete" BEFORE DELETE ON "setting" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_sign_delete" BEFORE DELETE ON "sign" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_signature_delete" BEFORE DELETE ON "signature" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_site_delete" BEFORE DELETE ON "site" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_slide_delete" BEFORE DELETE ON "slide" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_stage_mark_delete" BEFORE DELETE ON "stage_mark" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_stock_line_delete" BEFORE DELETE ON "stock_line" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_system_delete" BEFORE DELETE ON "system" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_tax_class_delete" BEFORE DELETE ON "tax_class" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_test_result_delete" BEFORE DELETE ON "test_result" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_treatment_delete" BEFORE DELETE ON "treatment" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_trial_run_delete" BEFORE DELETE ON "trial_run" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_tried_delete" BEFORE DELETE ON "tried" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_visit_delete" BEFORE DELETE ON "visit" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "kept_weighing_delete" BEFORE DELETE ON "weighing" WHEN 1 BEGIN SELECT RAISE(ABORT, 'finrounds: rows are struck, never deleted'); END
CREATE TRIGGER "signed_answer_insert" BEFORE INSERT ON "answer" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_answer_update" BEFORE UPDATE ON "answer" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = OLD."visit") IS NOT NULL OR (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_depth_mark_insert" BEFORE INSERT ON "depth_mark" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_depth_mark_update" BEFORE UPDATE ON "depth_mark" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = OLD."visit") IS NOT NULL OR (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_feed_step_insert" BEFORE INSERT ON "feed_step" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_feed_step_update" BEFORE UPDATE ON "feed_step" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = OLD."visit") IS NOT NULL OR (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_feeding_insert" BEFORE INSERT ON "feeding" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_feeding_update" BEFORE UPDATE ON "feeding" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = OLD."visit") IS NOT NULL OR (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_figure_insert" BEFORE INSERT ON "figure" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_figure_update" BEFORE UPDATE ON "figure" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = OLD."visit") IS NOT NULL OR (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_finding_insert" BEFORE INSERT ON "finding" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_finding_update" BEFORE UPDATE ON "finding" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = OLD."visit") IS NOT NULL OR (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_food_insert" BEFORE INSERT ON "food" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_food_update" BEFORE UPDATE ON "food" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = OLD."visit") IS NOT NULL OR (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_handling_insert" BEFORE INSERT ON "handling" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_handling_update" BEFORE UPDATE ON "handling" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = OLD."visit") IS NOT NULL OR (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_lesion_insert" BEFORE INSERT ON "lesion" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_lesion_update" BEFORE UPDATE ON "lesion" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = OLD."visit") IS NOT NULL OR (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_loss_insert" BEFORE INSERT ON "loss" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_loss_update" BEFORE UPDATE ON "loss" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = OLD."visit") IS NOT NULL OR (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_move_insert" BEFORE INSERT ON "move" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_move_update" BEFORE UPDATE ON "move" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = OLD."visit") IS NOT NULL OR (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_owner_step_insert" BEFORE INSERT ON "owner_step" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_owner_step_update" BEFORE UPDATE ON "owner_step" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = OLD."visit") IS NOT NULL OR (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_problem_insert" BEFORE INSERT ON "problem" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_problem_state_insert" BEFORE INSERT ON "problem_state" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_problem_state_update" BEFORE UPDATE ON "problem_state" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = OLD."visit") IS NOT NULL OR (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_problem_update" BEFORE UPDATE ON "problem" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = OLD."visit") IS NOT NULL OR (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_reading_insert" BEFORE INSERT ON "reading" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_reading_update" BEFORE UPDATE ON "reading" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = OLD."visit") IS NOT NULL OR (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_sample_insert" BEFORE INSERT ON "sample" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_sample_update" BEFORE UPDATE ON "sample" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = OLD."visit") IS NOT NULL OR (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_sent_test_insert" BEFORE INSERT ON "sent_test" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_sent_test_update" BEFORE UPDATE ON "sent_test" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = OLD."visit") IS NOT NULL OR (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_sign_insert" BEFORE INSERT ON "sign" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_sign_update" BEFORE UPDATE ON "sign" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = OLD."visit") IS NOT NULL OR (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_slide_insert" BEFORE INSERT ON "slide" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_slide_update" BEFORE UPDATE ON "slide" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = OLD."visit") IS NOT NULL OR (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_stage_mark_insert" BEFORE INSERT ON "stage_mark" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_stage_mark_update" BEFORE UPDATE ON "stage_mark" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = OLD."visit") IS NOT NULL OR (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_treatment_insert" BEFORE INSERT ON "treatment" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_treatment_update" BEFORE UPDATE ON "treatment" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = OLD."visit") IS NOT NULL OR (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_trial_run_insert" BEFORE INSERT ON "trial_run" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_trial_run_update" BEFORE UPDATE ON "trial_run" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = OLD."visit") IS NOT NULL OR (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_tried_insert" BEFORE INSERT ON "tried" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_tried_update" BEFORE UPDATE ON "tried" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = OLD."visit") IS NOT NULL OR (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_visit_update" BEFORE UPDATE ON "visit" WHEN OLD."signed_at" IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_weighing_insert" BEFORE INSERT ON "weighing" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
CREATE TRIGGER "signed_weighing_update" BEFORE UPDATE ON "weighing" WHEN (SELECT "signed_at" FROM "visit" WHERE "id" = OLD."visit") IS NOT NULL OR (SELECT "signed_at" FROM "visit" WHERE "id" = NEW."visit") IS NOT NULL BEGIN SELECT RAISE(ABORT, 'finrounds: the visit is signed'); END
