access_mark.id text C NOT NULL
access_mark.struck text C
access_mark.person text C NOT NULL
access_mark.what text C NOT NULL
access_mark.by text C NOT NULL
access_mark.at text C NOT NULL
addendum.id text C NOT NULL
addendum.struck text C
addendum.visit text C NOT NULL
addendum.words text C NOT NULL
addendum.why text C NOT NULL
addendum.by text C NOT NULL
addendum.at text C NOT NULL
answer.id text C NOT NULL
answer.struck text C
answer.visit text C NOT NULL
answer.system text C NOT NULL
answer.question text C NOT NULL
answer.state text C NOT NULL
answer.value text C NOT NULL
answer.told_by text C NOT NULL
answer.at text C NOT NULL
attempt.id text C NOT NULL
attempt.struck text C
attempt.recheck text C NOT NULL
attempt.result text C NOT NULL
attempt.by text C NOT NULL
attempt.at text C NOT NULL
charge.id text C NOT NULL
charge.struck text C
charge.visit text C NOT NULL
charge.position bigint NOT NULL
charge.code text C NOT NULL
charge.words text C NOT NULL
charge.quantity text C NOT NULL
charge.unit_minor bigint NOT NULL
charge.tax_class text C NOT NULL
charge.origins text C NOT NULL
charge.invoice text C
client.id text C NOT NULL
client.struck text C
client.name text C NOT NULL
client.phone text C NOT NULL
client.email text C NOT NULL
client.address text C NOT NULL
client.note text C NOT NULL
day_mark.id text C NOT NULL
day_mark.struck text C
day_mark.day text C NOT NULL
day_mark.line text C NOT NULL
day_mark.by text C NOT NULL
day_mark.at text C NOT NULL
delivery.id text C NOT NULL
delivery.struck text C
delivery.visit text C
delivery.document text C NOT NULL
delivery.how text C NOT NULL
delivery.to text C NOT NULL
delivery.by text C NOT NULL
delivery.at text C NOT NULL
depth_mark.id text C NOT NULL
depth_mark.struck text C
depth_mark.visit text C NOT NULL
depth_mark.handling text C NOT NULL
depth_mark.event text C NOT NULL
depth_mark.breaths double precision
depth_mark.note text C NOT NULL
depth_mark.by text C NOT NULL
depth_mark.at text C NOT NULL
device.id text C NOT NULL
device.here integer NOT NULL
device.count integer NOT NULL
device.clock text C NOT NULL
device.hash text C NOT NULL
document.id text C NOT NULL
document.struck text C
document.visit text C
document.client text C
document.kind text C NOT NULL
document.number text C NOT NULL
document.version bigint NOT NULL
document.supersedes text C
document.file text C NOT NULL
document.sha256 text C NOT NULL
document.content text C NOT NULL
document.by text C NOT NULL
document.at text C NOT NULL
edit.id text C NOT NULL
edit.device text C NOT NULL
edit.count integer NOT NULL
edit.clock text C NOT NULL
edit.at text C NOT NULL
edit.who text C NOT NULL
edit.kind text C NOT NULL
edit.schema integer NOT NULL
edit.visit text C
edit.reverses text C
edit.before text C NOT NULL
edit.hash text C NOT NULL
edit_line.edit text C NOT NULL
edit_line.position integer NOT NULL
edit_line.in_table text C NOT NULL
edit_line.row text C NOT NULL
edit_line.act text C NOT NULL
edit_line.change text C NOT NULL
feed_step.id text C NOT NULL
feed_step.struck text C
feed_step.visit text C NOT NULL
feed_step.system text C NOT NULL
feed_step.position bigint NOT NULL
feed_step.day text C NOT NULL
feed_step.grams double precision NOT NULL
feed_step.gate text C NOT NULL
feed_step.kind text C NOT NULL
feeding.id text C NOT NULL
feeding.struck text C
feeding.visit text C NOT NULL
feeding.system text C NOT NULL
feeding.fed_g double precision
feeding.fed_typed text C NOT NULL
feeding.every_days double precision NOT NULL
feeding.target_percent double precision
feeding.gone_min double precision
feeding.left_over integer NOT NULL
feeding.new_deaths bigint
feeding.at text C NOT NULL
figure.id text C NOT NULL
figure.struck text C
figure.visit text C NOT NULL
figure.subject text C NOT NULL
figure.name text C NOT NULL
figure.value double precision NOT NULL
figure.unit text C NOT NULL
figure.working text C NOT NULL
figure.formula text C NOT NULL
figure.catalogue text C NOT NULL
figure.at text C NOT NULL
finding.id text C NOT NULL
finding.struck text C
finding.visit text C NOT NULL
finding.slide text C NOT NULL
finding.finding text C NOT NULL
finding.counts text C NOT NULL
finding.grade text C NOT NULL
finding.note text C NOT NULL
fish_group.id text C NOT NULL
fish_group.struck text C
fish_group.system text C NOT NULL
fish_group.species text C NOT NULL
fish_group.name text C NOT NULL
fish_group.single integer NOT NULL
fish_group.count bigint
fish_group.tag text C NOT NULL
fish_group.stage text C NOT NULL
food.id text C NOT NULL
food.struck text C
food.visit text C NOT NULL
food.system text C NOT NULL
food.name text C NOT NULL
food.kind text C NOT NULL
food.protein_fraction double precision
food.opened text C
food.use_by text C
food.sealed integer NOT NULL
food.scoop_g double precision
handling.id text C NOT NULL
handling.struck text C
handling.visit text C NOT NULL
handling.system text C NOT NULL
handling.group text C
handling.number bigint NOT NULL
handling.label text C NOT NULL
handling.count bigint NOT NULL
handling.weight_g double precision
handling.weight_typed text C NOT NULL
handling.weight_how text C NOT NULL
handling.length_cm double precision
handling.length_typed text C NOT NULL
handling.agent text C NOT NULL
handling.agent_mg_l double precision
handling.bath_l double precision
handling.note text C NOT NULL
handling.at text C NOT NULL
hold.id text C NOT NULL
hold.struck text C
hold.client text C NOT NULL
hold.visit text C
hold.why text C NOT NULL
hold.by text C NOT NULL
hold.at text C NOT NULL
hold.ended_why text C NOT NULL
hold.ended_by text C
hold.ended_at text C
invoice.id text C NOT NULL
invoice.struck text C
invoice.visit text C NOT NULL
invoice.client text C NOT NULL
invoice.number text C NOT NULL
invoice.day text C NOT NULL
invoice.net_minor bigint NOT NULL
invoice.tax_minor bigint NOT NULL
invoice.gross_minor bigint NOT NULL
invoice.by text C NOT NULL
invoice.at text C NOT NULL
lesion.id text C NOT NULL
lesion.struck text C
lesion.visit text C NOT NULL
lesion.handling text C NOT NULL
lesion.kind text C NOT NULL
lesion.place text C NOT NULL
lesion.size_mm double precision
lesion.note text C NOT NULL
loss.id text C NOT NULL
loss.struck text C
loss.visit text C NOT NULL
loss.system text C NOT NULL
loss.group text C
loss.day text C
loss.day_to text C
loss.number bigint NOT NULL
loss.note text C NOT NULL
lot.id text C NOT NULL
lot.struck text C
lot.product text C NOT NULL
lot.number text C NOT NULL
lot.expires text C
lot.opened text C
lot.place text C NOT NULL
medicine_read.id text C NOT NULL
medicine_read.struck text C
medicine_read.medicine text C NOT NULL
medicine_read.state text C NOT NULL
medicine_read.fingerprint text C NOT NULL
medicine_read.note text C NOT NULL
medicine_read.by text C NOT NULL
medicine_read.at text C NOT NULL
move.id text C NOT NULL
move.struck text C
move.visit text C NOT NULL
move.group text C NOT NULL
move.from_system text C NOT NULL
move.to_system text C NOT NULL
move.number bigint
move.at text C NOT NULL
move.why text C NOT NULL
own_medicine.id text C NOT NULL
own_medicine.struck text C
own_medicine.name text C NOT NULL
own_medicine.body text C NOT NULL
own_medicine.by text C NOT NULL
own_medicine.at text C NOT NULL
owner_step.id text C NOT NULL
owner_step.struck text C
owner_step.visit text C NOT NULL
owner_step.position bigint NOT NULL
owner_step.kind text C NOT NULL
owner_step.words text C NOT NULL
owner_step.day text C
owner_step.origin text C NOT NULL
owner_told.id text C NOT NULL
owner_told.struck text C
owner_told.visit text C NOT NULL
owner_told.result text C NOT NULL
owner_told.how text C NOT NULL
owner_told.by text C NOT NULL
owner_told.at text C NOT NULL
payment.id text C NOT NULL
payment.struck text C
payment.visit text C NOT NULL
payment.client text C NOT NULL
payment.amount_minor bigint NOT NULL
payment.how text C NOT NULL
payment.reference text C NOT NULL
payment.by text C NOT NULL
payment.at text C NOT NULL
person.id text C NOT NULL
person.struck text C
person.name text C NOT NULL
person.role text C NOT NULL
person.licence text C NOT NULL
person.active integer NOT NULL
practice.id text C NOT NULL
practice.struck text C
practice.name text C NOT NULL
practice.address text C NOT NULL
practice.phone text C NOT NULL
practice.email text C NOT NULL
practice.licence text C NOT NULL
practice.currency text C NOT NULL
practice.currency_exponent bigint NOT NULL
practice.units text C NOT NULL
practice.paper text C NOT NULL
practice.zone text C NOT NULL
practice.tax_rounding text C NOT NULL
practice.terms text C NOT NULL
practice.authority text C NOT NULL
practice.opens text C NOT NULL
practice.closes text C NOT NULL
practice.open_days text C NOT NULL
practice.invented integer NOT NULL
price.id text C NOT NULL
price.struck text C
price.code text C NOT NULL
price.name text C NOT NULL
price.unit_minor bigint NOT NULL
price.tax_class text C NOT NULL
problem.id text C NOT NULL
problem.struck text C
problem.visit text C NOT NULL
problem.client text C NOT NULL
problem.system text C NOT NULL
problem.group text C
problem.problem text C NOT NULL
problem.words text C NOT NULL
problem_state.id text C NOT NULL
problem_state.struck text C
problem_state.visit text C NOT NULL
problem_state.problem text C NOT NULL
problem_state.state text C NOT NULL
problem_state.why text C NOT NULL
problem_state.by text C NOT NULL
problem_state.at text C NOT NULL
product.id text C NOT NULL
product.struck text C
product.medicine text C NOT NULL
product.name text C NOT NULL
product.strength double precision NOT NULL
product.strength_unit text C NOT NULL
product.density_g_ml double precision
product.pack double precision NOT NULL
product.pack_unit text C NOT NULL
product.price text C NOT NULL
product.controlled integer NOT NULL
proposed.id text C NOT NULL
proposed.struck text C
proposed.visit text C NOT NULL
proposed.kind text C NOT NULL
proposed.words text C NOT NULL
proposed.body text C NOT NULL
proposed.by text C NOT NULL
proposed.at text C NOT NULL
proposed.outcome text C NOT NULL
proposed.outcome_why text C NOT NULL
proposed.addendum text C
proposed.settled_by text C
proposed.settled_at text C
reading.id text C NOT NULL
reading.struck text C
reading.visit text C NOT NULL
reading.system text C NOT NULL
reading.place text C NOT NULL
reading.depth_cm double precision
reading.analyte text C NOT NULL
reading.value double precision NOT NULL
reading.below integer NOT NULL
reading.above integer NOT NULL
reading.typed text C NOT NULL
reading.unit text C NOT NULL
reading.basis text C NOT NULL
reading.method text C NOT NULL
reading.at text C NOT NULL
recheck.id text C NOT NULL
recheck.struck text C
recheck.visit text C NOT NULL
recheck.client text C NOT NULL
recheck.system text C NOT NULL
recheck.kind text C NOT NULL
recheck.reason text C NOT NULL
recheck.earliest text C NOT NULL
recheck.target text C NOT NULL
recheck.latest text C NOT NULL
recheck.booked text C
recheck.origin text C NOT NULL
recheck.closed_at text C
recheck.outcome text C NOT NULL
sample.id text C NOT NULL
sample.struck text C
sample.visit text C NOT NULL
sample.system text C NOT NULL
sample.handling text C
sample.number text C NOT NULL
sample.tissue text C NOT NULL
sample.got integer NOT NULL
sample.why text C NOT NULL
sample.place text C NOT NULL
sample.at text C NOT NULL
schema_step.number integer NOT NULL
schema_step.at text C NOT NULL
secret.person text C NOT NULL
secret.pin_hash text C NOT NULL
secret.recovery_hash text C NOT NULL
secret.wrong integer NOT NULL
secret.wait_until text C
sent_test.id text C NOT NULL
sent_test.struck text C
sent_test.visit text C NOT NULL
sent_test.system text C NOT NULL
sent_test.sample text C
sent_test.name text C NOT NULL
sent_test.where text C NOT NULL
sent_test.day text C NOT NULL
sent_test.due text C
setting.id text C NOT NULL
setting.struck text C
setting.key text C NOT NULL
setting.value text C NOT NULL
sign.id text C NOT NULL
sign.struck text C
sign.visit text C NOT NULL
sign.system text C NOT NULL
sign.subject text C NOT NULL
sign.subject_id text C NOT NULL
sign.sign text C NOT NULL
sign.state text C NOT NULL
sign.value double precision
sign.note text C NOT NULL
sign.at text C NOT NULL
signature.id text C NOT NULL
signature.struck text C
signature.visit text C NOT NULL
signature.device text C NOT NULL
signature.count bigint NOT NULL
signature.record_hash text C NOT NULL
signature.before text C NOT NULL
signature.chain text C NOT NULL
signature.by text C NOT NULL
signature.at text C NOT NULL
site.id text C NOT NULL
site.struck text C
site.client text C NOT NULL
site.name text C NOT NULL
site.address text C NOT NULL
site.access text C NOT NULL
site.caution text C NOT NULL
site.bring text C NOT NULL
site.elevation_m double precision NOT NULL
site.travel_min bigint NOT NULL
slide.id text C NOT NULL
slide.struck text C
slide.visit text C NOT NULL
slide.sample text C NOT NULL
slide.stain text C NOT NULL
slide.magnification bigint NOT NULL
slide.fields bigint NOT NULL
slide.normal integer NOT NULL
slide.note text C NOT NULL
slide.at text C NOT NULL
stage_mark.id text C NOT NULL
stage_mark.struck text C
stage_mark.visit text C NOT NULL
stage_mark.stage text C NOT NULL
stage_mark.state text C NOT NULL
stage_mark.why text C NOT NULL
stock_line.id text C NOT NULL
stock_line.struck text C
stock_line.lot text C NOT NULL
stock_line.kind text C NOT NULL
stock_line.amount text C NOT NULL
stock_line.balance text C NOT NULL
stock_line.treatment text C
stock_line.handling text C
stock_line.visit text C
stock_line.witness text C NOT NULL
stock_line.why text C NOT NULL
stock_line.by text C NOT NULL
stock_line.at text C NOT NULL
system.id text C NOT NULL
system.struck text C
system.site text C NOT NULL
system.name text C NOT NULL
system.kind text C NOT NULL
system.volume_l double precision
system.volume_typed text C NOT NULL
system.volume_how text C NOT NULL
system.volume_error_percent double precision
system.flow text C NOT NULL
system.flow_l_s double precision
system.food_fish integer NOT NULL
system.plants text C NOT NULL
system.invertebrates text C NOT NULL
system.zeolite text C NOT NULL
system.filter text C NOT NULL
system.source_water text C NOT NULL
system.note text C NOT NULL
tax_class.id text C NOT NULL
tax_class.struck text C
tax_class.code text C NOT NULL
tax_class.name text C NOT NULL
tax_class.rate_percent text C NOT NULL
test_result.id text C NOT NULL
test_result.struck text C
test_result.visit text C NOT NULL
test_result.test text C NOT NULL
test_result.value text C NOT NULL
test_result.by text C NOT NULL
test_result.at text C NOT NULL
treatment.id text C NOT NULL
treatment.struck text C
treatment.visit text C NOT NULL
treatment.system text C NOT NULL
treatment.group text C
treatment.handling text C
treatment.act text C NOT NULL
treatment.medicine text C NOT NULL
treatment.route text C NOT NULL
treatment.dose double precision NOT NULL
treatment.dose_unit text C NOT NULL
treatment.amount double precision NOT NULL
treatment.amount_unit text C NOT NULL
treatment.product text C NOT NULL
treatment.strength text C NOT NULL
treatment.lot text C NOT NULL
treatment.expires text C
treatment.place text C NOT NULL
treatment.repeats bigint NOT NULL
treatment.interval_days double precision
treatment.directions text C NOT NULL
treatment.withdrawal_until text C
treatment.withdrawal text C NOT NULL
treatment.override text C NOT NULL
treatment.starts text C
treatment.steps bigint NOT NULL
treatment.off_hours double precision
treatment.by text C NOT NULL
treatment.at text C NOT NULL
trial_run.id text C NOT NULL
trial_run.struck text C
trial_run.visit text C NOT NULL
trial_run.treatment text C NOT NULL
trial_run.fish bigint NOT NULL
trial_run.minutes double precision
trial_run.outcome text C NOT NULL
trial_run.by text C NOT NULL
trial_run.at text C NOT NULL
tried.id text C NOT NULL
tried.struck text C
tried.visit text C NOT NULL
tried.system text C NOT NULL
tried.agent text C NOT NULL
tried.amount text C NOT NULL
tried.day text C
tried.since text C NOT NULL
visit.id text C NOT NULL
visit.struck text C
visit.client text C NOT NULL
visit.site text C NOT NULL
visit.system text C NOT NULL
visit.vet text C NOT NULL
visit.day text C NOT NULL
visit.starts text C NOT NULL
visit.minutes bigint NOT NULL
visit.kind text C NOT NULL
visit.reason text C NOT NULL
visit.rank bigint NOT NULL
visit.rank_why text C NOT NULL
visit.state text C NOT NULL
visit.why text C NOT NULL
visit.advice text C NOT NULL
visit.booked_why text C NOT NULL
visit.recheck_of text C
visit.estimate_low_minor bigint
visit.estimate_high_minor bigint
visit.estimate_by text C NOT NULL
visit.estimate_at text C
visit.signed_at text C
visit.signed_by text C
visit.sign_hash text C
weighing.id text C NOT NULL
weighing.struck text C
weighing.visit text C NOT NULL
weighing.system text C NOT NULL
weighing.group text C NOT NULL
weighing.count bigint
weighing.weight_g double precision NOT NULL
weighing.length_cm double precision
weighing.how text C NOT NULL
weighing.typed text C NOT NULL
weighing.count_low bigint
weighing.count_high bigint
weighing.error_percent double precision
weighing.handling text C
weighing.at text C NOT NULL
access_mark FOREIGN KEY (by) REFERENCES person(id)
access_mark FOREIGN KEY (person) REFERENCES person(id)
access_mark PRIMARY KEY (id)
addendum FOREIGN KEY (by) REFERENCES person(id)
addendum PRIMARY KEY (id)
addendum FOREIGN KEY (visit) REFERENCES visit(id)
answer PRIMARY KEY (id)
answer FOREIGN KEY (system) REFERENCES system(id)
answer FOREIGN KEY (visit) REFERENCES visit(id)
attempt FOREIGN KEY (by) REFERENCES person(id)
attempt PRIMARY KEY (id)
attempt FOREIGN KEY (recheck) REFERENCES recheck(id)
charge FOREIGN KEY (invoice) REFERENCES invoice(id)
charge PRIMARY KEY (id)
charge FOREIGN KEY (visit) REFERENCES visit(id)
client PRIMARY KEY (id)
day_mark FOREIGN KEY (by) REFERENCES person(id)
day_mark PRIMARY KEY (id)
delivery FOREIGN KEY (by) REFERENCES person(id)
delivery FOREIGN KEY (document) REFERENCES document(id)
delivery PRIMARY KEY (id)
delivery FOREIGN KEY (visit) REFERENCES visit(id)
depth_mark FOREIGN KEY (handling) REFERENCES handling(id)
depth_mark PRIMARY KEY (id)
depth_mark FOREIGN KEY (visit) REFERENCES visit(id)
device PRIMARY KEY (id)
document FOREIGN KEY (by) REFERENCES person(id)
document FOREIGN KEY (client) REFERENCES client(id)
document PRIMARY KEY (id)
document FOREIGN KEY (visit) REFERENCES visit(id)
edit PRIMARY KEY (id)
edit_line PRIMARY KEY (edit, "position")
feed_step PRIMARY KEY (id)
feed_step FOREIGN KEY (system) REFERENCES system(id)
feed_step FOREIGN KEY (visit) REFERENCES visit(id)
feeding PRIMARY KEY (id)
feeding FOREIGN KEY (system) REFERENCES system(id)
feeding FOREIGN KEY (visit) REFERENCES visit(id)
figure PRIMARY KEY (id)
figure FOREIGN KEY (visit) REFERENCES visit(id)
finding PRIMARY KEY (id)
finding FOREIGN KEY (slide) REFERENCES slide(id)
finding FOREIGN KEY (visit) REFERENCES visit(id)
fish_group PRIMARY KEY (id)
fish_group FOREIGN KEY (system) REFERENCES system(id)
food PRIMARY KEY (id)
food FOREIGN KEY (system) REFERENCES system(id)
food FOREIGN KEY (visit) REFERENCES visit(id)
handling FOREIGN KEY ("group") REFERENCES fish_group(id)
handling PRIMARY KEY (id)
handling FOREIGN KEY (system) REFERENCES system(id)
handling FOREIGN KEY (visit) REFERENCES visit(id)
hold FOREIGN KEY (by) REFERENCES person(id)
hold FOREIGN KEY (client) REFERENCES client(id)
hold FOREIGN KEY (ended_by) REFERENCES person(id)
hold PRIMARY KEY (id)
hold FOREIGN KEY (visit) REFERENCES visit(id)
invoice FOREIGN KEY (by) REFERENCES person(id)
invoice FOREIGN KEY (client) REFERENCES client(id)
invoice PRIMARY KEY (id)
invoice FOREIGN KEY (visit) REFERENCES visit(id)
lesion FOREIGN KEY (handling) REFERENCES handling(id)
lesion PRIMARY KEY (id)
lesion FOREIGN KEY (visit) REFERENCES visit(id)
loss FOREIGN KEY ("group") REFERENCES fish_group(id)
loss PRIMARY KEY (id)
loss FOREIGN KEY (system) REFERENCES system(id)
loss FOREIGN KEY (visit) REFERENCES visit(id)
lot PRIMARY KEY (id)
lot FOREIGN KEY (product) REFERENCES product(id)
medicine_read FOREIGN KEY (by) REFERENCES person(id)
medicine_read PRIMARY KEY (id)
move FOREIGN KEY (from_system) REFERENCES system(id)
move FOREIGN KEY ("group") REFERENCES fish_group(id)
move PRIMARY KEY (id)
move FOREIGN KEY (to_system) REFERENCES system(id)
move FOREIGN KEY (visit) REFERENCES visit(id)
own_medicine FOREIGN KEY (by) REFERENCES person(id)
own_medicine PRIMARY KEY (id)
owner_step PRIMARY KEY (id)
owner_step FOREIGN KEY (visit) REFERENCES visit(id)
owner_told FOREIGN KEY (by) REFERENCES person(id)
owner_told PRIMARY KEY (id)
owner_told FOREIGN KEY (result) REFERENCES test_result(id)
owner_told FOREIGN KEY (visit) REFERENCES visit(id)
payment FOREIGN KEY (by) REFERENCES person(id)
payment FOREIGN KEY (client) REFERENCES client(id)
payment PRIMARY KEY (id)
payment FOREIGN KEY (visit) REFERENCES visit(id)
person PRIMARY KEY (id)
practice PRIMARY KEY (id)
price PRIMARY KEY (id)
problem FOREIGN KEY (client) REFERENCES client(id)
problem FOREIGN KEY ("group") REFERENCES fish_group(id)
problem PRIMARY KEY (id)
problem FOREIGN KEY (system) REFERENCES system(id)
problem FOREIGN KEY (visit) REFERENCES visit(id)
problem_state FOREIGN KEY (by) REFERENCES person(id)
problem_state PRIMARY KEY (id)
problem_state FOREIGN KEY (problem) REFERENCES problem(id)
problem_state FOREIGN KEY (visit) REFERENCES visit(id)
product PRIMARY KEY (id)
proposed FOREIGN KEY (addendum) REFERENCES addendum(id)
proposed FOREIGN KEY (by) REFERENCES person(id)
proposed PRIMARY KEY (id)
proposed FOREIGN KEY (settled_by) REFERENCES person(id)
proposed FOREIGN KEY (visit) REFERENCES visit(id)
reading PRIMARY KEY (id)
reading FOREIGN KEY (system) REFERENCES system(id)
reading FOREIGN KEY (visit) REFERENCES visit(id)
recheck FOREIGN KEY (client) REFERENCES client(id)
recheck PRIMARY KEY (id)
recheck FOREIGN KEY (system) REFERENCES system(id)
recheck FOREIGN KEY (visit) REFERENCES visit(id)
sample FOREIGN KEY (handling) REFERENCES handling(id)
sample PRIMARY KEY (id)
sample FOREIGN KEY (system) REFERENCES system(id)
sample FOREIGN KEY (visit) REFERENCES visit(id)
schema_step PRIMARY KEY (number)
secret PRIMARY KEY (person)
sent_test PRIMARY KEY (id)
sent_test FOREIGN KEY (sample) REFERENCES sample(id)
sent_test FOREIGN KEY (system) REFERENCES system(id)
sent_test FOREIGN KEY (visit) REFERENCES visit(id)
setting PRIMARY KEY (id)
sign PRIMARY KEY (id)
sign FOREIGN KEY (system) REFERENCES system(id)
sign FOREIGN KEY (visit) REFERENCES visit(id)
signature FOREIGN KEY (by) REFERENCES person(id)
signature PRIMARY KEY (id)
signature FOREIGN KEY (visit) REFERENCES visit(id)
site FOREIGN KEY (client) REFERENCES client(id)
site PRIMARY KEY (id)
slide PRIMARY KEY (id)
slide FOREIGN KEY (sample) REFERENCES sample(id)
slide FOREIGN KEY (visit) REFERENCES visit(id)
stage_mark PRIMARY KEY (id)
stage_mark FOREIGN KEY (visit) REFERENCES visit(id)
stock_line FOREIGN KEY (by) REFERENCES person(id)
stock_line FOREIGN KEY (handling) REFERENCES handling(id)
stock_line FOREIGN KEY (lot) REFERENCES lot(id)
stock_line PRIMARY KEY (id)
stock_line FOREIGN KEY (treatment) REFERENCES treatment(id)
stock_line FOREIGN KEY (visit) REFERENCES visit(id)
system PRIMARY KEY (id)
system FOREIGN KEY (site) REFERENCES site(id)
tax_class PRIMARY KEY (id)
test_result FOREIGN KEY (by) REFERENCES person(id)
test_result PRIMARY KEY (id)
test_result FOREIGN KEY (test) REFERENCES sent_test(id)
test_result FOREIGN KEY (visit) REFERENCES visit(id)
treatment FOREIGN KEY (by) REFERENCES person(id)
treatment FOREIGN KEY ("group") REFERENCES fish_group(id)
treatment FOREIGN KEY (handling) REFERENCES handling(id)
treatment PRIMARY KEY (id)
treatment FOREIGN KEY (system) REFERENCES system(id)
treatment FOREIGN KEY (visit) REFERENCES visit(id)
trial_run FOREIGN KEY (by) REFERENCES person(id)
trial_run PRIMARY KEY (id)
trial_run FOREIGN KEY (treatment) REFERENCES treatment(id)
trial_run FOREIGN KEY (visit) REFERENCES visit(id)
tried PRIMARY KEY (id)
tried FOREIGN KEY (system) REFERENCES system(id)
tried FOREIGN KEY (visit) REFERENCES visit(id)
visit FOREIGN KEY (client) REFERENCES client(id)
visit PRIMARY KEY (id)
visit FOREIGN KEY (site) REFERENCES site(id)
visit FOREIGN KEY (system) REFERENCES system(id)
visit FOREIGN KEY (vet) REFERENCES person(id)
weighing FOREIGN KEY ("group") REFERENCES fish_group(id)
weighing FOREIGN KEY (handling) REFERENCES handling(id)
weighing PRIMARY KEY (id)
weighing FOREIGN KEY (system) REFERENCES system(id)
weighing FOREIGN KEY (visit) REFERENCES visit(id)
CREATE OR REPLACE FUNCTION public.finrounds_guard() RETURNS trigger LANGUAGE plpgsql AS $function$ DECLARE before jsonb := CASE WHEN TG_OP = 'INSERT' THEN NULL ELSE to_jsonb(OLD) END; after jsonb := CASE WHEN TG_OP = 'DELETE' THEN NULL ELSE to_jsonb(NEW) END; row_key text := coalesce(before, after) ->> TG_ARGV[2]; line text := TG_TABLE_NAME || '|' || row_key || '|' || TG_ARGV[3]; refused boolean := true; BEGIN IF TG_ARGV[0] = 'door' THEN refused := coalesce(current_setting('finrounds.line', true), '') <> line OR (TG_OP = 'UPDATE' AND before ->> 'id' <> after ->> 'id'); ELSIF TG_ARGV[0] = 'this visit' THEN refused := before ->> 'signed_at' IS NOT NULL; ELSIF TG_ARGV[0] = 'its visit' THEN refused := EXISTS ( SELECT 1 FROM "visit" WHERE "id" IN (before ->> 'visit', after ->> 'visit') AND "signed_at" IS NOT NULL); ELSIF TG_ARGV[0] = 'invoice' THEN refused := before ->> 'invoice' IS NOT NULL; END IF; IF refused THEN RAISE EXCEPTION '%', TG_ARGV[1]; END IF; RETURN CASE WHEN TG_OP = 'DELETE' THEN OLD ELSE NEW END; END $function$
CREATE OR REPLACE FUNCTION public.finrounds_never() RETURNS trigger LANGUAGE plpgsql AS $function$ BEGIN RAISE EXCEPTION 'finrounds: rows are struck, never deleted'; END $function$
CREATE INDEX access_mark_person ON public.access_mark USING btree (person)
CREATE UNIQUE INDEX access_mark_pkey ON public.access_mark USING btree (id)
CREATE UNIQUE INDEX addendum_pkey ON public.addendum USING btree (id)
CREATE INDEX addendum_visit ON public.addendum USING btree (visit)
CREATE UNIQUE INDEX answer_pkey ON public.answer USING btree (id)
CREATE INDEX answer_system ON public.answer USING btree (system)
CREATE INDEX answer_visit ON public.answer USING btree (visit)
CREATE UNIQUE INDEX attempt_pkey ON public.attempt USING btree (id)
CREATE INDEX attempt_recheck ON public.attempt USING btree (recheck)
CREATE INDEX charge_invoice ON public.charge USING btree (invoice)
CREATE UNIQUE INDEX charge_pkey ON public.charge USING btree (id)
CREATE INDEX charge_visit ON public.charge USING btree (visit)
CREATE INDEX client_name ON public.client USING btree (name)
CREATE UNIQUE INDEX client_pkey ON public.client USING btree (id)
CREATE INDEX day_mark_day ON public.day_mark USING btree (day)
CREATE UNIQUE INDEX day_mark_pkey ON public.day_mark USING btree (id)
CREATE INDEX delivery_document ON public.delivery USING btree (document)
CREATE UNIQUE INDEX delivery_pkey ON public.delivery USING btree (id)
CREATE INDEX delivery_visit ON public.delivery USING btree (visit)
CREATE INDEX depth_mark_handling ON public.depth_mark USING btree (handling)
CREATE UNIQUE INDEX depth_mark_pkey ON public.depth_mark USING btree (id)
CREATE INDEX depth_mark_visit ON public.depth_mark USING btree (visit)
CREATE UNIQUE INDEX device_pkey ON public.device USING btree (id)
CREATE INDEX document_client ON public.document USING btree (client)
CREATE UNIQUE INDEX document_pkey ON public.document USING btree (id)
CREATE INDEX document_visit ON public.document USING btree (visit)
CREATE INDEX edit_clock ON public.edit USING btree (clock)
CREATE UNIQUE INDEX edit_device_count ON public.edit USING btree (device, count)
CREATE INDEX edit_line_in_table_row ON public.edit_line USING btree (in_table, "row")
CREATE UNIQUE INDEX edit_line_pkey ON public.edit_line USING btree (edit, "position")
CREATE UNIQUE INDEX edit_pkey ON public.edit USING btree (id)
CREATE INDEX edit_reverses ON public.edit USING btree (reverses)
CREATE INDEX edit_visit ON public.edit USING btree (visit)
CREATE UNIQUE INDEX feed_step_pkey ON public.feed_step USING btree (id)
CREATE INDEX feed_step_system ON public.feed_step USING btree (system)
CREATE INDEX feed_step_visit ON public.feed_step USING btree (visit)
CREATE UNIQUE INDEX feeding_pkey ON public.feeding USING btree (id)
CREATE INDEX feeding_system ON public.feeding USING btree (system)
CREATE INDEX feeding_visit ON public.feeding USING btree (visit)
CREATE UNIQUE INDEX figure_pkey ON public.figure USING btree (id)
CREATE INDEX figure_visit ON public.figure USING btree (visit)
CREATE UNIQUE INDEX finding_pkey ON public.finding USING btree (id)
CREATE INDEX finding_slide ON public.finding USING btree (slide)
CREATE INDEX finding_visit ON public.finding USING btree (visit)
CREATE UNIQUE INDEX fish_group_pkey ON public.fish_group USING btree (id)
CREATE INDEX fish_group_system ON public.fish_group USING btree (system)
CREATE UNIQUE INDEX food_pkey ON public.food USING btree (id)
CREATE INDEX food_system ON public.food USING btree (system)
CREATE INDEX food_visit ON public.food USING btree (visit)
CREATE INDEX handling_group ON public.handling USING btree ("group")
CREATE UNIQUE INDEX handling_pkey ON public.handling USING btree (id)
CREATE INDEX handling_system ON public.handling USING btree (system)
CREATE INDEX handling_visit ON public.handling USING btree (visit)
CREATE INDEX hold_client ON public.hold USING btree (client)
CREATE UNIQUE INDEX hold_pkey ON public.hold USING btree (id)
CREATE INDEX hold_visit ON public.hold USING btree (visit)
CREATE INDEX invoice_client ON public.invoice USING btree (client)
CREATE INDEX invoice_number ON public.invoice USING btree (number)
CREATE UNIQUE INDEX invoice_pkey ON public.invoice USING btree (id)
CREATE INDEX invoice_visit ON public.invoice USING btree (visit)
CREATE INDEX lesion_handling ON public.lesion USING btree (handling)
CREATE UNIQUE INDEX lesion_pkey ON public.lesion USING btree (id)
CREATE INDEX lesion_visit ON public.lesion USING btree (visit)
CREATE UNIQUE INDEX loss_pkey ON public.loss USING btree (id)
CREATE INDEX loss_system ON public.loss USING btree (system)
CREATE INDEX loss_visit ON public.loss USING btree (visit)
CREATE UNIQUE INDEX lot_pkey ON public.lot USING btree (id)
CREATE INDEX lot_product ON public.lot USING btree (product)
CREATE INDEX medicine_read_medicine ON public.medicine_read USING btree (medicine)
CREATE UNIQUE INDEX medicine_read_pkey ON public.medicine_read USING btree (id)
CREATE INDEX move_from_system ON public.move USING btree (from_system)
CREATE INDEX move_group ON public.move USING btree ("group")
CREATE UNIQUE INDEX move_pkey ON public.move USING btree (id)
CREATE INDEX move_to_system ON public.move USING btree (to_system)
CREATE INDEX move_visit ON public.move USING btree (visit)
CREATE INDEX own_medicine_name ON public.own_medicine USING btree (name)
CREATE UNIQUE INDEX own_medicine_pkey ON public.own_medicine USING btree (id)
CREATE UNIQUE INDEX owner_step_pkey ON public.owner_step USING btree (id)
CREATE INDEX owner_step_visit ON public.owner_step USING btree (visit)
CREATE UNIQUE INDEX owner_told_pkey ON public.owner_told USING btree (id)
CREATE INDEX owner_told_result ON public.owner_told USING btree (result)
CREATE INDEX owner_told_visit ON public.owner_told USING btree (visit)
CREATE INDEX payment_client ON public.payment USING btree (client)
CREATE UNIQUE INDEX payment_pkey ON public.payment USING btree (id)
CREATE INDEX payment_visit ON public.payment USING btree (visit)
CREATE UNIQUE INDEX person_pkey ON public.person USING btree (id)
CREATE UNIQUE INDEX practice_pkey ON public.practice USING btree (id)
CREATE INDEX price_code ON public.price USING btree (code)
CREATE UNIQUE INDEX price_pkey ON public.price USING btree (id)
CREATE INDEX problem_client ON public.problem USING btree (client)
CREATE UNIQUE INDEX problem_pkey ON public.problem USING btree (id)
CREATE UNIQUE INDEX problem_state_pkey ON public.problem_state USING btree (id)
CREATE INDEX problem_state_problem ON public.problem_state USING btree (problem)
CREATE INDEX problem_state_visit ON public.problem_state USING btree (visit)
CREATE INDEX problem_system ON public.problem USING btree (system)
CREATE INDEX problem_visit ON public.problem USING btree (visit)
CREATE INDEX product_medicine ON public.product USING btree (medicine)
CREATE UNIQUE INDEX product_pkey ON public.product USING btree (id)
CREATE UNIQUE INDEX proposed_pkey ON public.proposed USING btree (id)
CREATE INDEX proposed_visit ON public.proposed USING btree (visit)
CREATE INDEX reading_analyte ON public.reading USING btree (analyte)
CREATE UNIQUE INDEX reading_pkey ON public.reading USING btree (id)
CREATE INDEX reading_system ON public.reading USING btree (system)
CREATE INDEX reading_visit ON public.reading USING btree (visit)
CREATE INDEX reading_visit_system ON public.reading USING btree (visit, system)
CREATE INDEX recheck_booked ON public.recheck USING btree (booked)
CREATE INDEX recheck_client ON public.recheck USING btree (client)
CREATE UNIQUE INDEX recheck_pkey ON public.recheck USING btree (id)
CREATE INDEX recheck_system ON public.recheck USING btree (system)
CREATE INDEX recheck_target ON public.recheck USING btree (target)
CREATE INDEX recheck_visit ON public.recheck USING btree (visit)
CREATE INDEX sample_handling ON public.sample USING btree (handling)
CREATE UNIQUE INDEX sample_pkey ON public.sample USING btree (id)
CREATE INDEX sample_system ON public.sample USING btree (system)
CREATE INDEX sample_visit ON public.sample USING btree (visit)
CREATE UNIQUE INDEX schema_step_pkey ON public.schema_step USING btree (number)
CREATE UNIQUE INDEX secret_pkey ON public.secret USING btree (person)
CREATE UNIQUE INDEX sent_test_pkey ON public.sent_test USING btree (id)
CREATE INDEX sent_test_system ON public.sent_test USING btree (system)
CREATE INDEX sent_test_visit ON public.sent_test USING btree (visit)
CREATE INDEX setting_key ON public.setting USING btree (key)
CREATE UNIQUE INDEX setting_pkey ON public.setting USING btree (id)
CREATE UNIQUE INDEX sign_pkey ON public.sign USING btree (id)
CREATE INDEX sign_system ON public.sign USING btree (system)
CREATE INDEX sign_visit ON public.sign USING btree (visit)
CREATE UNIQUE INDEX signature_pkey ON public.signature USING btree (id)
CREATE INDEX signature_visit ON public.signature USING btree (visit)
CREATE INDEX site_client ON public.site USING btree (client)
CREATE UNIQUE INDEX site_pkey ON public.site USING btree (id)
CREATE UNIQUE INDEX slide_pkey ON public.slide USING btree (id)
CREATE INDEX slide_sample ON public.slide USING btree (sample)
CREATE INDEX slide_visit ON public.slide USING btree (visit)
CREATE UNIQUE INDEX stage_mark_pkey ON public.stage_mark USING btree (id)
CREATE INDEX stage_mark_visit ON public.stage_mark USING btree (visit)
CREATE INDEX stock_line_lot ON public.stock_line USING btree (lot)
CREATE UNIQUE INDEX stock_line_pkey ON public.stock_line USING btree (id)
CREATE INDEX stock_line_visit ON public.stock_line USING btree (visit)
CREATE UNIQUE INDEX system_pkey ON public.system USING btree (id)
CREATE INDEX system_site ON public.system USING btree (site)
CREATE UNIQUE INDEX tax_class_pkey ON public.tax_class USING btree (id)
CREATE UNIQUE INDEX test_result_pkey ON public.test_result USING btree (id)
CREATE INDEX test_result_test ON public.test_result USING btree (test)
CREATE INDEX test_result_visit ON public.test_result USING btree (visit)
CREATE INDEX treatment_handling ON public.treatment USING btree (handling)
CREATE UNIQUE INDEX treatment_pkey ON public.treatment USING btree (id)
CREATE INDEX treatment_system ON public.treatment USING btree (system)
CREATE INDEX treatment_visit ON public.treatment USING btree (visit)
CREATE UNIQUE INDEX trial_run_pkey ON public.trial_run USING btree (id)
CREATE INDEX trial_run_treatment ON public.trial_run USING btree (treatment)
CREATE INDEX trial_run_visit ON public.trial_run USING btree (visit)
CREATE UNIQUE INDEX tried_pkey ON public.tried USING btree (id)
CREATE INDEX tried_system ON public.tried USING btree (system)
CREATE INDEX tried_visit ON public.tried USING btree (visit)
CREATE INDEX visit_client ON public.visit USING btree (client)
CREATE INDEX visit_day ON public.visit USING btree (day)
CREATE UNIQUE INDEX visit_pkey ON public.visit USING btree (id)
CREATE INDEX visit_site ON public.visit USING btree (site)
CREATE INDEX visit_site_day ON public.visit USING btree (site, day, starts)
CREATE INDEX visit_system ON public.visit USING btree (system)
CREATE INDEX weighing_group ON public.weighing USING btree ("group")
CREATE UNIQUE INDEX weighing_pkey ON public.weighing USING btree (id)
CREATE INDEX weighing_system ON public.weighing USING btree (system)
CREATE INDEX weighing_visit ON public.weighing USING btree (visit)
CREATE TRIGGER door_access_mark_delete BEFORE DELETE ON public.access_mark FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_access_mark_insert BEFORE INSERT ON public.access_mark FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_access_mark_update BEFORE UPDATE ON public.access_mark FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER grows_access_mark_update BEFORE UPDATE ON public.access_mark FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: these rows are only added', 'id', 'change')
CREATE TRIGGER kept_access_mark_delete BEFORE DELETE ON public.access_mark FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_access_mark_truncate BEFORE TRUNCATE ON public.access_mark FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER door_addendum_delete BEFORE DELETE ON public.addendum FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_addendum_insert BEFORE INSERT ON public.addendum FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_addendum_update BEFORE UPDATE ON public.addendum FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER grows_addendum_update BEFORE UPDATE ON public.addendum FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: these rows are only added', 'id', 'change')
CREATE TRIGGER kept_addendum_delete BEFORE DELETE ON public.addendum FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_addendum_truncate BEFORE TRUNCATE ON public.addendum FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER door_answer_delete BEFORE DELETE ON public.answer FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_answer_insert BEFORE INSERT ON public.answer FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_answer_update BEFORE UPDATE ON public.answer FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER kept_answer_delete BEFORE DELETE ON public.answer FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_answer_truncate BEFORE TRUNCATE ON public.answer FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER signed_answer_insert BEFORE INSERT ON public.answer FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'add')
CREATE TRIGGER signed_answer_update BEFORE UPDATE ON public.answer FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'change')
CREATE TRIGGER door_attempt_delete BEFORE DELETE ON public.attempt FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_attempt_insert BEFORE INSERT ON public.attempt FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_attempt_update BEFORE UPDATE ON public.attempt FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER grows_attempt_update BEFORE UPDATE ON public.attempt FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: these rows are only added', 'id', 'change')
CREATE TRIGGER kept_attempt_delete BEFORE DELETE ON public.attempt FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_attempt_truncate BEFORE TRUNCATE ON public.attempt FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER door_charge_delete BEFORE DELETE ON public.charge FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_charge_insert BEFORE INSERT ON public.charge FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_charge_update BEFORE UPDATE ON public.charge FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER invoiced_charge_update BEFORE UPDATE ON public.charge FOR EACH ROW EXECUTE FUNCTION finrounds_guard('invoice', 'finrounds: the line stands on an issued invoice', 'id', 'change')
CREATE TRIGGER kept_charge_delete BEFORE DELETE ON public.charge FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_charge_truncate BEFORE TRUNCATE ON public.charge FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER door_client_delete BEFORE DELETE ON public.client FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_client_insert BEFORE INSERT ON public.client FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_client_update BEFORE UPDATE ON public.client FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER kept_client_delete BEFORE DELETE ON public.client FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_client_truncate BEFORE TRUNCATE ON public.client FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER door_day_mark_delete BEFORE DELETE ON public.day_mark FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_day_mark_insert BEFORE INSERT ON public.day_mark FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_day_mark_update BEFORE UPDATE ON public.day_mark FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER kept_day_mark_delete BEFORE DELETE ON public.day_mark FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_day_mark_truncate BEFORE TRUNCATE ON public.day_mark FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER door_delivery_delete BEFORE DELETE ON public.delivery FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_delivery_insert BEFORE INSERT ON public.delivery FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_delivery_update BEFORE UPDATE ON public.delivery FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER grows_delivery_update BEFORE UPDATE ON public.delivery FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: these rows are only added', 'id', 'change')
CREATE TRIGGER kept_delivery_delete BEFORE DELETE ON public.delivery FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_delivery_truncate BEFORE TRUNCATE ON public.delivery FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER door_depth_mark_delete BEFORE DELETE ON public.depth_mark FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_depth_mark_insert BEFORE INSERT ON public.depth_mark FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_depth_mark_update BEFORE UPDATE ON public.depth_mark FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER kept_depth_mark_delete BEFORE DELETE ON public.depth_mark FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_depth_mark_truncate BEFORE TRUNCATE ON public.depth_mark FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER signed_depth_mark_insert BEFORE INSERT ON public.depth_mark FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'add')
CREATE TRIGGER signed_depth_mark_update BEFORE UPDATE ON public.depth_mark FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'change')
CREATE TRIGGER door_document_delete BEFORE DELETE ON public.document FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_document_insert BEFORE INSERT ON public.document FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_document_update BEFORE UPDATE ON public.document FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER grows_document_update BEFORE UPDATE ON public.document FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: these rows are only added', 'id', 'change')
CREATE TRIGGER kept_document_delete BEFORE DELETE ON public.document FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_document_truncate BEFORE TRUNCATE ON public.document FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER door_edit_insert BEFORE INSERT ON public.edit FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER grows_edit_delete BEFORE DELETE ON public.edit FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: these rows are only added', 'id', 'remove')
CREATE TRIGGER grows_edit_update BEFORE UPDATE ON public.edit FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: these rows are only added', 'id', 'change')
CREATE TRIGGER kept_edit_truncate BEFORE TRUNCATE ON public.edit FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER door_edit_line_insert BEFORE INSERT ON public.edit_line FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'edit', 'add')
CREATE TRIGGER grows_edit_line_delete BEFORE DELETE ON public.edit_line FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: these rows are only added', 'id', 'remove')
CREATE TRIGGER grows_edit_line_update BEFORE UPDATE ON public.edit_line FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: these rows are only added', 'id', 'change')
CREATE TRIGGER kept_edit_line_truncate BEFORE TRUNCATE ON public.edit_line FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER door_feed_step_delete BEFORE DELETE ON public.feed_step FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_feed_step_insert BEFORE INSERT ON public.feed_step FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_feed_step_update BEFORE UPDATE ON public.feed_step FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER kept_feed_step_delete BEFORE DELETE ON public.feed_step FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_feed_step_truncate BEFORE TRUNCATE ON public.feed_step FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER signed_feed_step_insert BEFORE INSERT ON public.feed_step FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'add')
CREATE TRIGGER signed_feed_step_update BEFORE UPDATE ON public.feed_step FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'change')
CREATE TRIGGER door_feeding_delete BEFORE DELETE ON public.feeding FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_feeding_insert BEFORE INSERT ON public.feeding FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_feeding_update BEFORE UPDATE ON public.feeding FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER kept_feeding_delete BEFORE DELETE ON public.feeding FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_feeding_truncate BEFORE TRUNCATE ON public.feeding FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER signed_feeding_insert BEFORE INSERT ON public.feeding FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'add')
CREATE TRIGGER signed_feeding_update BEFORE UPDATE ON public.feeding FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'change')
CREATE TRIGGER door_figure_delete BEFORE DELETE ON public.figure FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_figure_insert BEFORE INSERT ON public.figure FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_figure_update BEFORE UPDATE ON public.figure FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER kept_figure_delete BEFORE DELETE ON public.figure FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_figure_truncate BEFORE TRUNCATE ON public.figure FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER signed_figure_insert BEFORE INSERT ON public.figure FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'add')
CREATE TRIGGER signed_figure_update BEFORE UPDATE ON public.figure FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'change')
CREATE TRIGGER door_finding_delete BEFORE DELETE ON public.finding FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_finding_insert BEFORE INSERT ON public.finding FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_finding_update BEFORE UPDATE ON public.finding FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER kept_finding_delete BEFORE DELETE ON public.finding FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_finding_truncate BEFORE TRUNCATE ON public.finding FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER signed_finding_insert BEFORE INSERT ON public.finding FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'add')
CREATE TRIGGER signed_finding_update BEFORE UPDATE ON public.finding FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'change')
CREATE TRIGGER door_fish_group_delete BEFORE DELETE ON public.fish_group FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_fish_group_insert BEFORE INSERT ON public.fish_group FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_fish_group_update BEFORE UPDATE ON public.fish_group FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER kept_fish_group_delete BEFORE DELETE ON public.fish_group FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_fish_group_truncate BEFORE TRUNCATE ON public.fish_group FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER door_food_delete BEFORE DELETE ON public.food FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_food_insert BEFORE INSERT ON public.food FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_food_update BEFORE UPDATE ON public.food FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER kept_food_delete BEFORE DELETE ON public.food FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_food_truncate BEFORE TRUNCATE ON public.food FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER signed_food_insert BEFORE INSERT ON public.food FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'add')
CREATE TRIGGER signed_food_update BEFORE UPDATE ON public.food FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'change')
CREATE TRIGGER door_handling_delete BEFORE DELETE ON public.handling FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_handling_insert BEFORE INSERT ON public.handling FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_handling_update BEFORE UPDATE ON public.handling FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER kept_handling_delete BEFORE DELETE ON public.handling FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_handling_truncate BEFORE TRUNCATE ON public.handling FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER signed_handling_insert BEFORE INSERT ON public.handling FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'add')
CREATE TRIGGER signed_handling_update BEFORE UPDATE ON public.handling FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'change')
CREATE TRIGGER door_hold_delete BEFORE DELETE ON public.hold FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_hold_insert BEFORE INSERT ON public.hold FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_hold_update BEFORE UPDATE ON public.hold FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER kept_hold_delete BEFORE DELETE ON public.hold FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_hold_truncate BEFORE TRUNCATE ON public.hold FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER door_invoice_delete BEFORE DELETE ON public.invoice FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_invoice_insert BEFORE INSERT ON public.invoice FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_invoice_update BEFORE UPDATE ON public.invoice FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER grows_invoice_update BEFORE UPDATE ON public.invoice FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: these rows are only added', 'id', 'change')
CREATE TRIGGER kept_invoice_delete BEFORE DELETE ON public.invoice FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_invoice_truncate BEFORE TRUNCATE ON public.invoice FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER door_lesion_delete BEFORE DELETE ON public.lesion FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_lesion_insert BEFORE INSERT ON public.lesion FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_lesion_update BEFORE UPDATE ON public.lesion FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER kept_lesion_delete BEFORE DELETE ON public.lesion FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_lesion_truncate BEFORE TRUNCATE ON public.lesion FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER signed_lesion_insert BEFORE INSERT ON public.lesion FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'add')
CREATE TRIGGER signed_lesion_update BEFORE UPDATE ON public.lesion FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'change')
CREATE TRIGGER door_loss_delete BEFORE DELETE ON public.loss FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_loss_insert BEFORE INSERT ON public.loss FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_loss_update BEFORE UPDATE ON public.loss FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER kept_loss_delete BEFORE DELETE ON public.loss FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_loss_truncate BEFORE TRUNCATE ON public.loss FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER signed_loss_insert BEFORE INSERT ON public.loss FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'add')
CREATE TRIGGER signed_loss_update BEFORE UPDATE ON public.loss FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'change')
CREATE TRIGGER door_lot_delete BEFORE DELETE ON public.lot FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_lot_insert BEFORE INSERT ON public.lot FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_lot_update BEFORE UPDATE ON public.lot FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER kept_lot_delete BEFORE DELETE ON public.lot FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_lot_truncate BEFORE TRUNCATE ON public.lot FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER door_medicine_read_delete BEFORE DELETE ON public.medicine_read FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_medicine_read_insert BEFORE INSERT ON public.medicine_read FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_medicine_read_update BEFORE UPDATE ON public.medicine_read FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER grows_medicine_read_update BEFORE UPDATE ON public.medicine_read FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: these rows are only added', 'id', 'change')
CREATE TRIGGER kept_medicine_read_delete BEFORE DELETE ON public.medicine_read FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_medicine_read_truncate BEFORE TRUNCATE ON public.medicine_read FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER door_move_delete BEFORE DELETE ON public.move FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_move_insert BEFORE INSERT ON public.move FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_move_update BEFORE UPDATE ON public.move FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER kept_move_delete BEFORE DELETE ON public.move FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_move_truncate BEFORE TRUNCATE ON public.move FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER signed_move_insert BEFORE INSERT ON public.move FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'add')
CREATE TRIGGER signed_move_update BEFORE UPDATE ON public.move FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'change')
CREATE TRIGGER door_own_medicine_delete BEFORE DELETE ON public.own_medicine FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_own_medicine_insert BEFORE INSERT ON public.own_medicine FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_own_medicine_update BEFORE UPDATE ON public.own_medicine FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER kept_own_medicine_delete BEFORE DELETE ON public.own_medicine FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_own_medicine_truncate BEFORE TRUNCATE ON public.own_medicine FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER door_owner_step_delete BEFORE DELETE ON public.owner_step FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_owner_step_insert BEFORE INSERT ON public.owner_step FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_owner_step_update BEFORE UPDATE ON public.owner_step FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER kept_owner_step_delete BEFORE DELETE ON public.owner_step FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_owner_step_truncate BEFORE TRUNCATE ON public.owner_step FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER signed_owner_step_insert BEFORE INSERT ON public.owner_step FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'add')
CREATE TRIGGER signed_owner_step_update BEFORE UPDATE ON public.owner_step FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'change')
CREATE TRIGGER door_owner_told_delete BEFORE DELETE ON public.owner_told FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_owner_told_insert BEFORE INSERT ON public.owner_told FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_owner_told_update BEFORE UPDATE ON public.owner_told FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER grows_owner_told_update BEFORE UPDATE ON public.owner_told FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: these rows are only added', 'id', 'change')
CREATE TRIGGER kept_owner_told_delete BEFORE DELETE ON public.owner_told FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_owner_told_truncate BEFORE TRUNCATE ON public.owner_told FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER door_payment_delete BEFORE DELETE ON public.payment FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_payment_insert BEFORE INSERT ON public.payment FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_payment_update BEFORE UPDATE ON public.payment FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER grows_payment_update BEFORE UPDATE ON public.payment FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: these rows are only added', 'id', 'change')
CREATE TRIGGER kept_payment_delete BEFORE DELETE ON public.payment FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_payment_truncate BEFORE TRUNCATE ON public.payment FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER door_person_delete BEFORE DELETE ON public.person FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_person_insert BEFORE INSERT ON public.person FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_person_update BEFORE UPDATE ON public.person FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER kept_person_delete BEFORE DELETE ON public.person FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_person_truncate BEFORE TRUNCATE ON public.person FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER door_practice_delete BEFORE DELETE ON public.practice FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_practice_insert BEFORE INSERT ON public.practice FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_practice_update BEFORE UPDATE ON public.practice FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER kept_practice_delete BEFORE DELETE ON public.practice FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_practice_truncate BEFORE TRUNCATE ON public.practice FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER door_price_delete BEFORE DELETE ON public.price FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_price_insert BEFORE INSERT ON public.price FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_price_update BEFORE UPDATE ON public.price FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER kept_price_delete BEFORE DELETE ON public.price FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_price_truncate BEFORE TRUNCATE ON public.price FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER door_problem_delete BEFORE DELETE ON public.problem FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_problem_insert BEFORE INSERT ON public.problem FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_problem_update BEFORE UPDATE ON public.problem FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER kept_problem_delete BEFORE DELETE ON public.problem FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_problem_truncate BEFORE TRUNCATE ON public.problem FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER signed_problem_insert BEFORE INSERT ON public.problem FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'add')
CREATE TRIGGER signed_problem_update BEFORE UPDATE ON public.problem FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'change')
CREATE TRIGGER door_problem_state_delete BEFORE DELETE ON public.problem_state FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_problem_state_insert BEFORE INSERT ON public.problem_state FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_problem_state_update BEFORE UPDATE ON public.problem_state FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER kept_problem_state_delete BEFORE DELETE ON public.problem_state FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_problem_state_truncate BEFORE TRUNCATE ON public.problem_state FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER signed_problem_state_insert BEFORE INSERT ON public.problem_state FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'add')
CREATE TRIGGER signed_problem_state_update BEFORE UPDATE ON public.problem_state FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'change')
CREATE TRIGGER door_product_delete BEFORE DELETE ON public.product FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_product_insert BEFORE INSERT ON public.product FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_product_update BEFORE UPDATE ON public.product FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER kept_product_delete BEFORE DELETE ON public.product FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_product_truncate BEFORE TRUNCATE ON public.product FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER door_proposed_delete BEFORE DELETE ON public.proposed FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_proposed_insert BEFORE INSERT ON public.proposed FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_proposed_update BEFORE UPDATE ON public.proposed FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER kept_proposed_delete BEFORE DELETE ON public.proposed FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_proposed_truncate BEFORE TRUNCATE ON public.proposed FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER door_reading_delete BEFORE DELETE ON public.reading FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_reading_insert BEFORE INSERT ON public.reading FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_reading_update BEFORE UPDATE ON public.reading FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER kept_reading_delete BEFORE DELETE ON public.reading FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_reading_truncate BEFORE TRUNCATE ON public.reading FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER signed_reading_insert BEFORE INSERT ON public.reading FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'add')
CREATE TRIGGER signed_reading_update BEFORE UPDATE ON public.reading FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'change')
CREATE TRIGGER door_recheck_delete BEFORE DELETE ON public.recheck FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_recheck_insert BEFORE INSERT ON public.recheck FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_recheck_update BEFORE UPDATE ON public.recheck FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER kept_recheck_delete BEFORE DELETE ON public.recheck FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_recheck_truncate BEFORE TRUNCATE ON public.recheck FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER door_sample_delete BEFORE DELETE ON public.sample FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_sample_insert BEFORE INSERT ON public.sample FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_sample_update BEFORE UPDATE ON public.sample FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER kept_sample_delete BEFORE DELETE ON public.sample FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_sample_truncate BEFORE TRUNCATE ON public.sample FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER signed_sample_insert BEFORE INSERT ON public.sample FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'add')
CREATE TRIGGER signed_sample_update BEFORE UPDATE ON public.sample FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'change')
CREATE TRIGGER door_sent_test_delete BEFORE DELETE ON public.sent_test FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_sent_test_insert BEFORE INSERT ON public.sent_test FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_sent_test_update BEFORE UPDATE ON public.sent_test FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER kept_sent_test_delete BEFORE DELETE ON public.sent_test FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_sent_test_truncate BEFORE TRUNCATE ON public.sent_test FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER signed_sent_test_insert BEFORE INSERT ON public.sent_test FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'add')
CREATE TRIGGER signed_sent_test_update BEFORE UPDATE ON public.sent_test FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'change')
CREATE TRIGGER door_setting_delete BEFORE DELETE ON public.setting FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_setting_insert BEFORE INSERT ON public.setting FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_setting_update BEFORE UPDATE ON public.setting FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER kept_setting_delete BEFORE DELETE ON public.setting FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_setting_truncate BEFORE TRUNCATE ON public.setting FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER door_sign_delete BEFORE DELETE ON public.sign FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_sign_insert BEFORE INSERT ON public.sign FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_sign_update BEFORE UPDATE ON public.sign FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER kept_sign_delete BEFORE DELETE ON public.sign FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_sign_truncate BEFORE TRUNCATE ON public.sign FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER signed_sign_insert BEFORE INSERT ON public.sign FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'add')
CREATE TRIGGER signed_sign_update BEFORE UPDATE ON public.sign FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'change')
CREATE TRIGGER door_signature_delete BEFORE DELETE ON public.signature FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_signature_insert BEFORE INSERT ON public.signature FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_signature_update BEFORE UPDATE ON public.signature FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER grows_signature_update BEFORE UPDATE ON public.signature FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: these rows are only added', 'id', 'change')
CREATE TRIGGER kept_signature_delete BEFORE DELETE ON public.signature FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_signature_truncate BEFORE TRUNCATE ON public.signature FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER door_site_delete BEFORE DELETE ON public.site FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_site_insert BEFORE INSERT ON public.site FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_site_update BEFORE UPDATE ON public.site FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER kept_site_delete BEFORE DELETE ON public.site FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_site_truncate BEFORE TRUNCATE ON public.site FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER door_slide_delete BEFORE DELETE ON public.slide FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_slide_insert BEFORE INSERT ON public.slide FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_slide_update BEFORE UPDATE ON public.slide FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER kept_slide_delete BEFORE DELETE ON public.slide FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_slide_truncate BEFORE TRUNCATE ON public.slide FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER signed_slide_insert BEFORE INSERT ON public.slide FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'add')
CREATE TRIGGER signed_slide_update BEFORE UPDATE ON public.slide FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'change')
CREATE TRIGGER door_stage_mark_delete BEFORE DELETE ON public.stage_mark FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_stage_mark_insert BEFORE INSERT ON public.stage_mark FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_stage_mark_update BEFORE UPDATE ON public.stage_mark FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER kept_stage_mark_delete BEFORE DELETE ON public.stage_mark FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_stage_mark_truncate BEFORE TRUNCATE ON public.stage_mark FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER signed_stage_mark_insert BEFORE INSERT ON public.stage_mark FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'add')
CREATE TRIGGER signed_stage_mark_update BEFORE UPDATE ON public.stage_mark FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'change')
CREATE TRIGGER door_stock_line_delete BEFORE DELETE ON public.stock_line FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_stock_line_insert BEFORE INSERT ON public.stock_line FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_stock_line_update BEFORE UPDATE ON public.stock_line FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER grows_stock_line_update BEFORE UPDATE ON public.stock_line FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: these rows are only added', 'id', 'change')
CREATE TRIGGER kept_stock_line_delete BEFORE DELETE ON public.stock_line FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_stock_line_truncate BEFORE TRUNCATE ON public.stock_line FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER door_system_delete BEFORE DELETE ON public.system FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_system_insert BEFORE INSERT ON public.system FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_system_update BEFORE UPDATE ON public.system FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER kept_system_delete BEFORE DELETE ON public.system FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_system_truncate BEFORE TRUNCATE ON public.system FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER door_tax_class_delete BEFORE DELETE ON public.tax_class FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_tax_class_insert BEFORE INSERT ON public.tax_class FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_tax_class_update BEFORE UPDATE ON public.tax_class FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER kept_tax_class_delete BEFORE DELETE ON public.tax_class FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_tax_class_truncate BEFORE TRUNCATE ON public.tax_class FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER door_test_result_delete BEFORE DELETE ON public.test_result FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_test_result_insert BEFORE INSERT ON public.test_result FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_test_result_update BEFORE UPDATE ON public.test_result FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER grows_test_result_update BEFORE UPDATE ON public.test_result FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: these rows are only added', 'id', 'change')
CREATE TRIGGER kept_test_result_delete BEFORE DELETE ON public.test_result FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_test_result_truncate BEFORE TRUNCATE ON public.test_result FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER door_treatment_delete BEFORE DELETE ON public.treatment FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_treatment_insert BEFORE INSERT ON public.treatment FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_treatment_update BEFORE UPDATE ON public.treatment FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER kept_treatment_delete BEFORE DELETE ON public.treatment FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_treatment_truncate BEFORE TRUNCATE ON public.treatment FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER signed_treatment_insert BEFORE INSERT ON public.treatment FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'add')
CREATE TRIGGER signed_treatment_update BEFORE UPDATE ON public.treatment FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'change')
CREATE TRIGGER door_trial_run_delete BEFORE DELETE ON public.trial_run FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_trial_run_insert BEFORE INSERT ON public.trial_run FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_trial_run_update BEFORE UPDATE ON public.trial_run FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER kept_trial_run_delete BEFORE DELETE ON public.trial_run FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_trial_run_truncate BEFORE TRUNCATE ON public.trial_run FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER signed_trial_run_insert BEFORE INSERT ON public.trial_run FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'add')
CREATE TRIGGER signed_trial_run_update BEFORE UPDATE ON public.trial_run FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'change')
CREATE TRIGGER door_tried_delete BEFORE DELETE ON public.tried FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_tried_insert BEFORE INSERT ON public.tried FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_tried_update BEFORE UPDATE ON public.tried FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER kept_tried_delete BEFORE DELETE ON public.tried FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_tried_truncate BEFORE TRUNCATE ON public.tried FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER signed_tried_insert BEFORE INSERT ON public.tried FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'add')
CREATE TRIGGER signed_tried_update BEFORE UPDATE ON public.tried FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'change')
CREATE TRIGGER door_visit_delete BEFORE DELETE ON public.visit FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_visit_insert BEFORE INSERT ON public.visit FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_visit_update BEFORE UPDATE ON public.visit FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER kept_visit_delete BEFORE DELETE ON public.visit FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_visit_truncate BEFORE TRUNCATE ON public.visit FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER signed_visit_update BEFORE UPDATE ON public.visit FOR EACH ROW EXECUTE FUNCTION finrounds_guard('this visit', 'finrounds: the visit is signed', 'id', 'change')
CREATE TRIGGER door_weighing_delete BEFORE DELETE ON public.weighing FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'remove')
CREATE TRIGGER door_weighing_insert BEFORE INSERT ON public.weighing FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'add')
CREATE TRIGGER door_weighing_update BEFORE UPDATE ON public.weighing FOR EACH ROW EXECUTE FUNCTION finrounds_guard('door', 'finrounds: a write beside the journal', 'id', 'change')
CREATE TRIGGER kept_weighing_delete BEFORE DELETE ON public.weighing FOR EACH ROW EXECUTE FUNCTION finrounds_guard('always', 'finrounds: rows are struck, never deleted', 'id', 'remove')
CREATE TRIGGER kept_weighing_truncate BEFORE TRUNCATE ON public.weighing FOR EACH STATEMENT EXECUTE FUNCTION finrounds_never()
CREATE TRIGGER signed_weighing_insert BEFORE INSERT ON public.weighing FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'add')
CREATE TRIGGER signed_weighing_update BEFORE UPDATE ON public.weighing FOR EACH ROW EXECUTE FUNCTION finrounds_guard('its visit', 'finrounds: the visit is signed', 'id', 'change')
