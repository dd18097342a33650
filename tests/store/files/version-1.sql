PRAGMA application_id=1464617026;
PRAGMA user_version=1;
BEGIN TRANSACTION;
CREATE TABLE alembic_version (
	version_num VARCHAR(32) NOT NULL, 
	CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num)
);
INSERT INTO "alembic_version" VALUES('0001');
CREATE TABLE build (
	id INTEGER NOT NULL, 
	kind VARCHAR NOT NULL, 
	name VARCHAR NOT NULL, 
	note VARCHAR NOT NULL, 
	glass VARCHAR, 
	ice VARCHAR, 
	ice_g DOUBLE, 
	wash_line_ml DOUBLE, 
	target_id INTEGER, 
	parent_id INTEGER, 
	is_tried BOOLEAN NOT NULL, 
	kept_at VARCHAR NOT NULL, 
	house_days INTEGER, 
	bitterness DOUBLE, 
	drop_ml DOUBLE, 
	dash_ml DOUBLE, 
	piece_g DOUBLE, 
	pour_ml DOUBLE, 
	tastes_like VARCHAR NOT NULL, 
	CONSTRAINT pk_build PRIMARY KEY (id), 
	CONSTRAINT fk_build_id_item FOREIGN KEY(id) REFERENCES item (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_build_id_in_range CHECK (id BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT ck_build_kind_is_known CHECK (kind IN ('drink', 'part')), 
	CONSTRAINT fk_build_glass_glass FOREIGN KEY(glass) REFERENCES glass (slug) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_build_ice_g_in_range CHECK (ice_g BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_build_wash_line_ml_in_range CHECK (wash_line_ml BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT fk_build_target_id_target FOREIGN KEY(target_id) REFERENCES target (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_build_target_id_in_range CHECK (target_id BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT fk_build_parent_id_build FOREIGN KEY(parent_id) REFERENCES build (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_build_parent_id_in_range CHECK (parent_id BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT ck_build_is_tried_in_range CHECK (is_tried IN (FALSE, TRUE)), 
	CONSTRAINT ck_build_kept_at_is_known CHECK (kept_at IN ('freezer', 'fridge', 'room', 'ice_well')), 
	CONSTRAINT ck_build_house_days_in_range CHECK (house_days BETWEEN 0 AND 1000000), 
	CONSTRAINT ck_build_bitterness_in_range CHECK (bitterness BETWEEN 0.0 AND 100.0), 
	CONSTRAINT ck_build_drop_ml_in_range CHECK (drop_ml BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_build_dash_ml_in_range CHECK (dash_ml BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_build_piece_g_in_range CHECK (piece_g BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_build_pour_ml_in_range CHECK (pour_ml BETWEEN 0.0 AND 1000000000.0)
);
INSERT INTO "build" VALUES(10,'part','Lime cordial','two jars',NULL,NULL,NULL,NULL,NULL,NULL,0,'fridge',7,NULL,NULL,NULL,NULL,NULL,'');
INSERT INTO "build" VALUES(20,'drink','Tall lime','','highball',NULL,0.0,NULL,30,NULL,0,'fridge',NULL,NULL,NULL,NULL,NULL,NULL,'a bright afternoon');
INSERT INTO "build" VALUES(21,'drink','Tall lime, twisted','','highball',NULL,0.0,NULL,30,20,1,'fridge',NULL,NULL,NULL,NULL,NULL,NULL,'a bright afternoon');
CREATE TABLE build_allergen (
	build_id INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	allergen VARCHAR NOT NULL, 
	CONSTRAINT pk_build_allergen PRIMARY KEY (build_id, position), 
	CONSTRAINT fk_build_allergen_build_id_build FOREIGN KEY(build_id) REFERENCES build (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_build_allergen_build_id_in_range CHECK (build_id BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT ck_build_allergen_position_in_range CHECK (position BETWEEN 0 AND 1000000)
);
INSERT INTO "build_allergen" VALUES(20,0,'celery');
INSERT INTO "build_allergen" VALUES(21,0,'celery');
CREATE TABLE build_sign (
	build_id INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	taste VARCHAR NOT NULL, 
	remedy VARCHAR NOT NULL, 
	CONSTRAINT pk_build_sign PRIMARY KEY (build_id, position), 
	CONSTRAINT fk_build_sign_build_id_build FOREIGN KEY(build_id) REFERENCES build (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_build_sign_build_id_in_range CHECK (build_id BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT ck_build_sign_position_in_range CHECK (position BETWEEN 0 AND 1000000)
);
INSERT INTO "build_sign" VALUES(10,0,'flat','add a pinch of salt');
INSERT INTO "build_sign" VALUES(10,1,'yeasty','throw it away');
CREATE TABLE glass (
	slug VARCHAR NOT NULL, 
	name VARCHAR NOT NULL, 
	brim_ml DOUBLE NOT NULL, 
	usual_fill_ml DOUBLE, 
	ice VARCHAR NOT NULL, 
	ice_g DOUBLE NOT NULL, 
	wash_line_ml DOUBLE, 
	source VARCHAR NOT NULL, 
	note VARCHAR NOT NULL, 
	CONSTRAINT pk_glass PRIMARY KEY (slug), 
	CONSTRAINT ck_glass_brim_ml_in_range CHECK (brim_ml BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_glass_usual_fill_ml_in_range CHECK (usual_fill_ml BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_glass_ice_g_in_range CHECK (ice_g BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_glass_wash_line_ml_in_range CHECK (wash_line_ml BETWEEN 0.0 AND 1000000000.0)
);
INSERT INTO "glass" VALUES('highball','Highball',350.0,NULL,'',130.0,NULL,'','');
INSERT INTO "glass" VALUES('coupe','Coupe',180.0,NULL,'',0.0,NULL,'','');
CREATE TABLE item (
	id INTEGER NOT NULL, 
	kind VARCHAR NOT NULL, 
	CONSTRAINT pk_item PRIMARY KEY (id), 
	CONSTRAINT ck_item_id_in_range CHECK (id BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT ck_item_kind_is_known CHECK (kind IN ('raw', 'build', 'leftover'))
);
INSERT INTO "item" VALUES(1,'raw');
INSERT INTO "item" VALUES(2,'raw');
INSERT INTO "item" VALUES(3,'raw');
INSERT INTO "item" VALUES(4,'raw');
INSERT INTO "item" VALUES(10,'build');
INSERT INTO "item" VALUES(11,'leftover');
INSERT INTO "item" VALUES(20,'build');
INSERT INTO "item" VALUES(21,'build');
CREATE TABLE journal (
	number INTEGER NOT NULL, 
	label VARCHAR NOT NULL, 
	made_at DATETIME NOT NULL, 
	is_undone BOOLEAN NOT NULL, 
	moved_at DATETIME, 
	CONSTRAINT pk_journal PRIMARY KEY (number), 
	CONSTRAINT ck_journal_number_in_range CHECK (number BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT ck_journal_is_undone_in_range CHECK (is_undone IN (FALSE, TRUE))
);
INSERT INTO "journal" VALUES(1,'Making of the house book','2026-03-01 18:40:05.250000',0,NULL);
INSERT INTO "journal" VALUES(2,'change of grain spirit','2026-03-01 18:40:05.250000',0,NULL);
INSERT INTO "journal" VALUES(3,'change of lime juice','2026-03-01 18:40:05.250000',0,NULL);
INSERT INTO "journal" VALUES(4,'removing note','2026-03-01 18:40:05.250000',0,NULL);
INSERT INTO "journal" VALUES(5,'change of Lime cordial','2026-03-01 18:40:05.250000',1,'2026-03-01 18:40:05.250000');
CREATE TABLE journal_change (
	number INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	table_name VARCHAR NOT NULL, 
	row_key VARCHAR NOT NULL, 
	build_id INTEGER, 
	row_before VARCHAR, 
	row_after VARCHAR, 
	CONSTRAINT pk_journal_change PRIMARY KEY (number, position), 
	CONSTRAINT fk_journal_change_number_journal FOREIGN KEY(number) REFERENCES journal (number) ON DELETE CASCADE DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_journal_change_number_in_range CHECK (number BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT ck_journal_change_position_in_range CHECK (position BETWEEN 0 AND 9007199254740991), 
	CONSTRAINT ck_journal_change_table_name_is_known CHECK (table_name IN ('settings', 'raw', 'build', 'step', 'leftover', 'target', 'glass', 'method', 'measure')), 
	CONSTRAINT ck_journal_change_build_id_in_range CHECK (build_id BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT ck_journal_change_says_something CHECK (row_before IS NOT NULL OR row_after IS NOT NULL)
)
 WITHOUT ROWID

;
INSERT INTO "journal_change" VALUES(2,0,'step','201',20,'{"type":"add","id":201,"build_id":20,"place":1.5,"words":"","left_out":false,"item_id":2,"amount":{"number":45.0,"unit":"ml","basis":"absolute","of":[],"typed":"1 1/2 oz"},"temperature_c":null}','{"type":"add","id":201,"build_id":20,"place":1.5,"words":"","left_out":false,"item_id":2,"amount":{"number":50.0,"unit":"ml","basis":"absolute","of":[],"typed":""},"temperature_c":null}');
INSERT INTO "journal_change" VALUES(3,0,'settings','0',NULL,'{"type":"settings","house_name":"Back bar","is_demo":false,"currency":"EUR","oz_ml":29.5735,"alcohol_units":"au","freezer_c":-18.0,"fridge_c":4.0,"room_c":20.0,"ice_well_c":0.0,"fizz_loss_pct":25.0,"wash_line_pct":82.5,"paper_size":"a5"}','{"type":"settings","house_name":"Back bar","is_demo":false,"currency":"EUR","oz_ml":29.5735,"alcohol_units":"au","freezer_c":-18.0,"fridge_c":4.0,"room_c":21.0,"ice_well_c":0.0,"fizz_loss_pct":25.0,"wash_line_pct":82.5,"paper_size":"a5"}');
INSERT INTO "journal_change" VALUES(3,1,'raw','1',NULL,'{"type":"raw","id":1,"slug":"lime-juice","name":"lime juice","category":"","form":"liquid","composition":[91.5,0.0,0.30000000000000004,null,null,null,null,null,null,null,null,null,null,null,null,null,null,null,null,null,null,null,null,0.0],"density_g_per_ml":null,"strength_pct_vol":null,"co2_g_per_l":null,"bitterness":null,"strong_cation_mmol_per_100g":null,"other_acid_name":"","ph_model":"","typical_ph_low":null,"typical_ph_high":null,"titratable_acidity_pct":null,"soluble_solids_pct":null,"sugar_uncertainty_pct":null,"acid_uncertainty_pct":null,"allergens":["unknown"],"cautions":[],"kept_at":"room","drop_ml":null,"dash_ml":null,"piece_g":null,"edible_yield":null,"edible_yield_basis":"","season_months":"","house_days":null,"prices":[{"per_unit":4.2,"unit":"l","date":"2026-02-01","note":""},{"per_unit":4.5,"unit":"l","date":"2026-02-20","note":""}],"vegan":"","vegetarian":"","source":"","source_kind":"","from_memory_fields":"","note":""}','{"type":"raw","id":1,"slug":"lime-juice","name":"lime juice, pressed","category":"","form":"liquid","composition":[91.5,0.0,0.30000000000000004,null,null,null,null,null,null,null,null,null,null,null,null,null,null,null,null,null,null,null,null,0.0],"density_g_per_ml":null,"strength_pct_vol":null,"co2_g_per_l":null,"bitterness":null,"strong_cation_mmol_per_100g":null,"other_acid_name":"","ph_model":"","typical_ph_low":null,"typical_ph_high":null,"titratable_acidity_pct":null,"soluble_solids_pct":null,"sugar_uncertainty_pct":null,"acid_uncertainty_pct":null,"allergens":["unknown"],"cautions":[],"kept_at":"room","drop_ml":null,"dash_ml":null,"piece_g":null,"edible_yield":null,"edible_yield_basis":"","season_months":"","house_days":2,"prices":[{"per_unit":4.2,"unit":"l","date":"2026-02-01","note":""},{"per_unit":4.5,"unit":"l","date":"2026-02-20","note":""}],"vegan":"","vegetarian":"","source":"","source_kind":"","from_memory_fields":"","note":""}');
INSERT INTO "journal_change" VALUES(3,2,'leftover','11',10,'{"type":"leftover","id":11,"build_id":10,"name":"lime pulp","kept_at":"fridge","house_days":2,"piece_g":null}','{"type":"leftover","id":11,"build_id":10,"name":"lime pulp","kept_at":"fridge","house_days":2,"piece_g":2.5}');
INSERT INTO "journal_change" VALUES(4,0,'build','10',10,'{"type":"build","id":10,"kind":"part","name":"Lime cordial","note":"","steps":[],"glass":null,"ice":null,"ice_g":null,"wash_line_ml":null,"target_id":null,"parent_id":null,"is_tried":false,"kept_at":"fridge","house_days":7,"bitterness":null,"drop_ml":null,"dash_ml":null,"piece_g":null,"pour_ml":null,"added_allergens":[],"tastes_like":"","if_off":[{"taste":"flat","remedy":"add a pinch of salt"},{"taste":"yeasty","remedy":"throw it away"}]}','{"type":"build","id":10,"kind":"part","name":"Lime cordial","note":"two jars","steps":[],"glass":null,"ice":null,"ice_g":null,"wash_line_ml":null,"target_id":null,"parent_id":null,"is_tried":false,"kept_at":"fridge","house_days":7,"bitterness":null,"drop_ml":null,"dash_ml":null,"piece_g":null,"pour_ml":null,"added_allergens":[],"tastes_like":"","if_off":[{"taste":"flat","remedy":"add a pinch of salt"},{"taste":"yeasty","remedy":"throw it away"}]}');
INSERT INTO "journal_change" VALUES(4,1,'step','110',10,'{"type":"note","id":110,"build_id":10,"place":10.0,"words":"52 °Bx on the refractometer","left_out":false,"duration_s":null,"temperature_low_c":null,"temperature_high_c":null}',NULL);
INSERT INTO "journal_change" VALUES(5,0,'step','200',20,'{"type":"add","id":200,"build_id":20,"place":1.0,"words":"","left_out":false,"item_id":10,"amount":{"number":22.5,"unit":"ml","basis":"absolute","of":[],"typed":""},"temperature_c":null}','{"type":"add","id":200,"build_id":20,"place":1.0,"words":"","left_out":false,"item_id":10,"amount":{"number":60.0,"unit":"ml","basis":"absolute","of":[],"typed":""},"temperature_c":null}');
CREATE TABLE leftover (
	id INTEGER NOT NULL, 
	build_id INTEGER NOT NULL, 
	name VARCHAR NOT NULL, 
	kept_at VARCHAR NOT NULL, 
	house_days INTEGER, 
	piece_g DOUBLE, 
	CONSTRAINT pk_leftover PRIMARY KEY (id), 
	CONSTRAINT fk_leftover_id_item FOREIGN KEY(id) REFERENCES item (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_leftover_id_in_range CHECK (id BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT fk_leftover_build_id_build FOREIGN KEY(build_id) REFERENCES build (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_leftover_build_id_in_range CHECK (build_id BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT ck_leftover_kept_at_is_known CHECK (kept_at IN ('freezer', 'fridge', 'room', 'ice_well')), 
	CONSTRAINT ck_leftover_house_days_in_range CHECK (house_days BETWEEN 0 AND 1000000), 
	CONSTRAINT ck_leftover_piece_g_in_range CHECK (piece_g BETWEEN 0.0 AND 1000000000.0)
);
INSERT INTO "leftover" VALUES(11,10,'lime pulp','fridge',2,2.5);
CREATE TABLE measure (
	slug VARCHAR NOT NULL, 
	name VARCHAR NOT NULL, 
	value DOUBLE NOT NULL, 
	unit VARCHAR NOT NULL, 
	low DOUBLE NOT NULL, 
	high DOUBLE NOT NULL, 
	source VARCHAR NOT NULL, 
	source_kind VARCHAR NOT NULL, 
	note VARCHAR NOT NULL, 
	CONSTRAINT pk_measure PRIMARY KEY (slug), 
	CONSTRAINT ck_measure_value_in_range CHECK (value BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_measure_low_in_range CHECK (low BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_measure_high_in_range CHECK (high BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_measure_in_order CHECK (low <= high)
);
INSERT INTO "measure" VALUES('dash','Dash',0.8,'ml',0.4,1.1,'','','');
CREATE TABLE meta (
	id INTEGER NOT NULL, 
	top_id INTEGER NOT NULL, 
	top_number INTEGER NOT NULL, 
	CONSTRAINT pk_meta PRIMARY KEY (id), 
	CONSTRAINT ck_meta_id_in_range CHECK (id BETWEEN 0 AND 1000000), 
	CONSTRAINT ck_meta_top_id_in_range CHECK (top_id BETWEEN 0 AND 9007199254740991), 
	CONSTRAINT ck_meta_top_number_in_range CHECK (top_number BETWEEN 0 AND 9007199254740991), 
	CONSTRAINT ck_meta_is_one_row CHECK (id = 0)
);
INSERT INTO "meta" VALUES(0,30000,1);
CREATE TABLE method (
	slug VARCHAR NOT NULL, 
	name VARCHAR NOT NULL, 
	ice VARCHAR NOT NULL, 
	ice_g DOUBLE, 
	time_low_s DOUBLE, 
	time_high_s DOUBLE, 
	dilution_low_pct DOUBLE NOT NULL, 
	dilution_high_pct DOUBLE NOT NULL, 
	end_low_c DOUBLE NOT NULL, 
	end_high_c DOUBLE NOT NULL, 
	source VARCHAR NOT NULL, 
	source_kind VARCHAR NOT NULL, 
	note VARCHAR NOT NULL, 
	CONSTRAINT pk_method PRIMARY KEY (slug), 
	CONSTRAINT ck_method_ice_g_in_range CHECK (ice_g BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_method_time_low_s_in_range CHECK (time_low_s BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_method_time_high_s_in_range CHECK (time_high_s BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_method_dilution_low_pct_in_range CHECK (dilution_low_pct BETWEEN 0.0 AND 10000.0), 
	CONSTRAINT ck_method_dilution_high_pct_in_range CHECK (dilution_high_pct BETWEEN 0.0 AND 10000.0), 
	CONSTRAINT ck_method_end_low_c_in_range CHECK (end_low_c BETWEEN -273.15 AND 1000.0), 
	CONSTRAINT ck_method_end_high_c_in_range CHECK (end_high_c BETWEEN -273.15 AND 1000.0), 
	CONSTRAINT ck_method_dilution_in_order CHECK (dilution_low_pct <= dilution_high_pct), 
	CONSTRAINT ck_method_end_in_order CHECK (end_low_c <= end_high_c)
);
INSERT INTO "method" VALUES('stir','Stir','',NULL,NULL,NULL,35.0,50.0,-5.0,0.0,'','','');
CREATE TABLE raw (
	id INTEGER NOT NULL, 
	slug VARCHAR NOT NULL, 
	name VARCHAR NOT NULL, 
	category VARCHAR NOT NULL, 
	form VARCHAR NOT NULL, 
	water DOUBLE, 
	ethanol DOUBLE, 
	sucrose DOUBLE, 
	glucose DOUBLE, 
	fructose DOUBLE, 
	lactose DOUBLE, 
	maltose DOUBLE, 
	other_carbohydrate DOUBLE, 
	polyol DOUBLE, 
	citric DOUBLE, 
	malic DOUBLE, 
	tartaric DOUBLE, 
	lactic DOUBLE, 
	acetic DOUBLE, 
	ascorbic DOUBLE, 
	phosphoric DOUBLE, 
	other_acid DOUBLE, 
	nacl DOUBLE, 
	other_solids DOUBLE, 
	protein DOUBLE, 
	fat DOUBLE, 
	fibre DOUBLE, 
	insoluble DOUBLE, 
	co2 DOUBLE, 
	density_g_per_ml DOUBLE, 
	strength_pct_vol DOUBLE, 
	co2_g_per_l DOUBLE, 
	bitterness DOUBLE, 
	strong_cation_mmol_per_100g DOUBLE, 
	other_acid_name VARCHAR NOT NULL, 
	ph_model VARCHAR NOT NULL, 
	typical_ph_low DOUBLE, 
	typical_ph_high DOUBLE, 
	titratable_acidity_pct DOUBLE, 
	soluble_solids_pct DOUBLE, 
	sugar_uncertainty_pct DOUBLE, 
	acid_uncertainty_pct DOUBLE, 
	kept_at VARCHAR NOT NULL, 
	drop_ml DOUBLE, 
	dash_ml DOUBLE, 
	piece_g DOUBLE, 
	edible_yield DOUBLE, 
	edible_yield_basis VARCHAR NOT NULL, 
	season_months VARCHAR NOT NULL, 
	house_days INTEGER, 
	vegan VARCHAR NOT NULL, 
	vegetarian VARCHAR NOT NULL, 
	source VARCHAR NOT NULL, 
	source_kind VARCHAR NOT NULL, 
	from_memory_fields VARCHAR NOT NULL, 
	note VARCHAR NOT NULL, 
	CONSTRAINT pk_raw PRIMARY KEY (id), 
	CONSTRAINT fk_raw_id_item FOREIGN KEY(id) REFERENCES item (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_raw_id_in_range CHECK (id BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT ck_raw_water_in_range CHECK (water BETWEEN 0.0 AND 101.0), 
	CONSTRAINT ck_raw_ethanol_in_range CHECK (ethanol BETWEEN 0.0 AND 101.0), 
	CONSTRAINT ck_raw_sucrose_in_range CHECK (sucrose BETWEEN 0.0 AND 101.0), 
	CONSTRAINT ck_raw_glucose_in_range CHECK (glucose BETWEEN 0.0 AND 101.0), 
	CONSTRAINT ck_raw_fructose_in_range CHECK (fructose BETWEEN 0.0 AND 101.0), 
	CONSTRAINT ck_raw_lactose_in_range CHECK (lactose BETWEEN 0.0 AND 101.0), 
	CONSTRAINT ck_raw_maltose_in_range CHECK (maltose BETWEEN 0.0 AND 101.0), 
	CONSTRAINT ck_raw_other_carbohydrate_in_range CHECK (other_carbohydrate BETWEEN 0.0 AND 101.0), 
	CONSTRAINT ck_raw_polyol_in_range CHECK (polyol BETWEEN 0.0 AND 101.0), 
	CONSTRAINT ck_raw_citric_in_range CHECK (citric BETWEEN 0.0 AND 101.0), 
	CONSTRAINT ck_raw_malic_in_range CHECK (malic BETWEEN 0.0 AND 101.0), 
	CONSTRAINT ck_raw_tartaric_in_range CHECK (tartaric BETWEEN 0.0 AND 101.0), 
	CONSTRAINT ck_raw_lactic_in_range CHECK (lactic BETWEEN 0.0 AND 101.0), 
	CONSTRAINT ck_raw_acetic_in_range CHECK (acetic BETWEEN 0.0 AND 101.0), 
	CONSTRAINT ck_raw_ascorbic_in_range CHECK (ascorbic BETWEEN 0.0 AND 101.0), 
	CONSTRAINT ck_raw_phosphoric_in_range CHECK (phosphoric BETWEEN 0.0 AND 101.0), 
	CONSTRAINT ck_raw_other_acid_in_range CHECK (other_acid BETWEEN 0.0 AND 101.0), 
	CONSTRAINT ck_raw_nacl_in_range CHECK (nacl BETWEEN 0.0 AND 101.0), 
	CONSTRAINT ck_raw_other_solids_in_range CHECK (other_solids BETWEEN 0.0 AND 101.0), 
	CONSTRAINT ck_raw_protein_in_range CHECK (protein BETWEEN 0.0 AND 101.0), 
	CONSTRAINT ck_raw_fat_in_range CHECK (fat BETWEEN 0.0 AND 101.0), 
	CONSTRAINT ck_raw_fibre_in_range CHECK (fibre BETWEEN 0.0 AND 101.0), 
	CONSTRAINT ck_raw_insoluble_in_range CHECK (insoluble BETWEEN 0.0 AND 101.0), 
	CONSTRAINT ck_raw_co2_in_range CHECK (co2 BETWEEN 0.0 AND 101.0), 
	CONSTRAINT ck_raw_density_g_per_ml_in_range CHECK (density_g_per_ml BETWEEN 0.0 AND 25.0), 
	CONSTRAINT ck_raw_strength_pct_vol_in_range CHECK (strength_pct_vol BETWEEN 0.0 AND 10000.0), 
	CONSTRAINT ck_raw_co2_g_per_l_in_range CHECK (co2_g_per_l BETWEEN 0.0 AND 1000.0), 
	CONSTRAINT ck_raw_bitterness_in_range CHECK (bitterness BETWEEN 0.0 AND 100.0), 
	CONSTRAINT ck_raw_strong_cation_mmol_per_100g_in_range CHECK (strong_cation_mmol_per_100g BETWEEN -100000.0 AND 100000.0), 
	CONSTRAINT ck_raw_typical_ph_low_in_range CHECK (typical_ph_low BETWEEN -2.0 AND 16.0), 
	CONSTRAINT ck_raw_typical_ph_high_in_range CHECK (typical_ph_high BETWEEN -2.0 AND 16.0), 
	CONSTRAINT ck_raw_titratable_acidity_pct_in_range CHECK (titratable_acidity_pct BETWEEN 0.0 AND 10000.0), 
	CONSTRAINT ck_raw_soluble_solids_pct_in_range CHECK (soluble_solids_pct BETWEEN 0.0 AND 10000.0), 
	CONSTRAINT ck_raw_sugar_uncertainty_pct_in_range CHECK (sugar_uncertainty_pct BETWEEN 0.0 AND 10000.0), 
	CONSTRAINT ck_raw_acid_uncertainty_pct_in_range CHECK (acid_uncertainty_pct BETWEEN 0.0 AND 10000.0), 
	CONSTRAINT ck_raw_kept_at_is_known CHECK (kept_at IN ('freezer', 'fridge', 'room', 'ice_well')), 
	CONSTRAINT ck_raw_drop_ml_in_range CHECK (drop_ml BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_raw_dash_ml_in_range CHECK (dash_ml BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_raw_piece_g_in_range CHECK (piece_g BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_raw_edible_yield_in_range CHECK (edible_yield BETWEEN 0.0 AND 10.0), 
	CONSTRAINT ck_raw_house_days_in_range CHECK (house_days BETWEEN 0 AND 1000000)
);
INSERT INTO "raw" VALUES(1,'lime-juice','lime juice, pressed','','liquid',91.5,0.0,3.00000000000000044408e-01,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,0.0,NULL,NULL,NULL,NULL,NULL,'','',NULL,NULL,NULL,NULL,NULL,NULL,'room',NULL,NULL,NULL,NULL,'','',2,'','','','','','');
INSERT INTO "raw" VALUES(2,'grain-spirit','grain spirit','','liquid',91.5,0.0,3.00000000000000044408e-01,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,0.0,NULL,NULL,NULL,NULL,NULL,'','',NULL,NULL,NULL,NULL,NULL,NULL,'room',NULL,NULL,NULL,NULL,'','',NULL,'','','','','','');
INSERT INTO "raw" VALUES(3,'soda-water','soda water','','liquid',91.5,0.0,3.00000000000000044408e-01,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,0.0,NULL,NULL,NULL,NULL,NULL,'','',NULL,NULL,NULL,NULL,NULL,NULL,'fridge',NULL,NULL,NULL,NULL,'','',NULL,'','','','','','');
INSERT INTO "raw" VALUES(4,'lime-peel','lime peel','','solid',91.5,0.0,3.00000000000000044408e-01,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,0.0,NULL,NULL,NULL,NULL,NULL,'','',NULL,NULL,NULL,NULL,NULL,NULL,'room',NULL,NULL,1.25,NULL,'','',NULL,'','','','','','');
CREATE TABLE raw_allergen (
	raw_id INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	allergen VARCHAR NOT NULL, 
	CONSTRAINT pk_raw_allergen PRIMARY KEY (raw_id, position), 
	CONSTRAINT fk_raw_allergen_raw_id_raw FOREIGN KEY(raw_id) REFERENCES raw (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_raw_allergen_raw_id_in_range CHECK (raw_id BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT ck_raw_allergen_position_in_range CHECK (position BETWEEN 0 AND 1000000)
);
INSERT INTO "raw_allergen" VALUES(1,0,'unknown');
INSERT INTO "raw_allergen" VALUES(3,0,'sulphites');
INSERT INTO "raw_allergen" VALUES(3,1,'unknown');
INSERT INTO "raw_allergen" VALUES(4,0,'unknown');
CREATE TABLE raw_caution (
	raw_id INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	caution VARCHAR NOT NULL, 
	CONSTRAINT pk_raw_caution PRIMARY KEY (raw_id, position), 
	CONSTRAINT fk_raw_caution_raw_id_raw FOREIGN KEY(raw_id) REFERENCES raw (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_raw_caution_raw_id_in_range CHECK (raw_id BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT ck_raw_caution_position_in_range CHECK (position BETWEEN 0 AND 1000000)
);
INSERT INTO "raw_caution" VALUES(2,0,'high-proof-flammable');
CREATE TABLE raw_price (
	raw_id INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	per_unit DOUBLE NOT NULL, 
	unit VARCHAR NOT NULL, 
	date VARCHAR NOT NULL, 
	note VARCHAR NOT NULL, 
	CONSTRAINT pk_raw_price PRIMARY KEY (raw_id, position), 
	CONSTRAINT fk_raw_price_raw_id_raw FOREIGN KEY(raw_id) REFERENCES raw (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_raw_price_raw_id_in_range CHECK (raw_id BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT ck_raw_price_position_in_range CHECK (position BETWEEN 0 AND 1000000), 
	CONSTRAINT ck_raw_price_per_unit_in_range CHECK (per_unit BETWEEN 0.0 AND 1000000000.0)
);
INSERT INTO "raw_price" VALUES(1,0,4.2,'l','2026-02-01','');
INSERT INTO "raw_price" VALUES(1,1,4.5,'l','2026-02-20','');
CREATE TABLE result (
	item_id INTEGER NOT NULL, 
	journal_number INTEGER NOT NULL, 
	stamp VARCHAR NOT NULL, 
	flags INTEGER NOT NULL, 
	strength DOUBLE, 
	sweetness DOUBLE, 
	acidity DOUBLE, 
	bitterness DOUBLE, 
	fizz DOUBLE, 
	length DOUBLE, 
	chill DOUBLE, 
	salt DOUBLE, 
	dilution DOUBLE, 
	density DOUBLE, 
	brix_true DOUBLE, 
	brix_shown DOUBLE, 
	sugar_acid_ratio DOUBLE, 
	ethanol DOUBLE, 
	energy_kcal DOUBLE, 
	energy_kj DOUBLE, 
	cost DOUBLE, 
	mass DOUBLE, 
	strength_more DOUBLE, 
	sweetness_more DOUBLE, 
	acidity_more DOUBLE, 
	bitterness_more DOUBLE, 
	fizz_more DOUBLE, 
	length_more DOUBLE, 
	chill_more DOUBLE, 
	salt_more DOUBLE, 
	dilution_more DOUBLE, 
	density_more DOUBLE, 
	brix_true_more DOUBLE, 
	brix_shown_more DOUBLE, 
	sugar_acid_ratio_more DOUBLE, 
	ethanol_more DOUBLE, 
	energy_kcal_more DOUBLE, 
	energy_kj_more DOUBLE, 
	cost_more DOUBLE, 
	mass_more DOUBLE, 
	exact BLOB NOT NULL, 
	CONSTRAINT pk_result PRIMARY KEY (item_id), 
	CONSTRAINT fk_result_item_id_build FOREIGN KEY(item_id) REFERENCES build (id) ON DELETE CASCADE DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_result_item_id_in_range CHECK (item_id BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT ck_result_journal_number_in_range CHECK (journal_number BETWEEN 0 AND 9007199254740991), 
	CONSTRAINT ck_result_flags_in_range CHECK (flags BETWEEN 0 AND 4611686018427387904), 
	CONSTRAINT ck_result_strength_in_range CHECK (strength BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_result_sweetness_in_range CHECK (sweetness BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_result_acidity_in_range CHECK (acidity BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_result_bitterness_in_range CHECK (bitterness BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_result_fizz_in_range CHECK (fizz BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_result_length_in_range CHECK (length BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_result_chill_in_range CHECK (chill BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_result_salt_in_range CHECK (salt BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_result_dilution_in_range CHECK (dilution BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_result_density_in_range CHECK (density BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_result_brix_true_in_range CHECK (brix_true BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_result_brix_shown_in_range CHECK (brix_shown BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_result_sugar_acid_ratio_in_range CHECK (sugar_acid_ratio BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_result_ethanol_in_range CHECK (ethanol BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_result_energy_kcal_in_range CHECK (energy_kcal BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_result_energy_kj_in_range CHECK (energy_kj BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_result_cost_in_range CHECK (cost BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_result_mass_in_range CHECK (mass BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_result_strength_more_in_range CHECK (strength_more BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_result_sweetness_more_in_range CHECK (sweetness_more BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_result_acidity_more_in_range CHECK (acidity_more BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_result_bitterness_more_in_range CHECK (bitterness_more BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_result_fizz_more_in_range CHECK (fizz_more BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_result_length_more_in_range CHECK (length_more BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_result_chill_more_in_range CHECK (chill_more BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_result_salt_more_in_range CHECK (salt_more BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_result_dilution_more_in_range CHECK (dilution_more BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_result_density_more_in_range CHECK (density_more BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_result_brix_true_more_in_range CHECK (brix_true_more BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_result_brix_shown_more_in_range CHECK (brix_shown_more BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_result_sugar_acid_ratio_more_in_range CHECK (sugar_acid_ratio_more BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_result_ethanol_more_in_range CHECK (ethanol_more BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_result_energy_kcal_more_in_range CHECK (energy_kcal_more BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_result_energy_kj_more_in_range CHECK (energy_kj_more BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_result_cost_more_in_range CHECK (cost_more BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_result_mass_more_in_range CHECK (mass_more BETWEEN -1000000000000000.0 AND 1000000000000000.0)
);
INSERT INTO "result" VALUES(20,4,'stamp of version 1',0,0.5,1.5,2.5,3.5,4.5,5.5,6.5,7.5,8.5,9.5,10.5,11.5,12.5,13.5,14.5,15.5,16.5,17.5,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,X'000000000000E03F000000000000F83F00000000000004400000000000000C40000000000000124000000000000016400000000000001A400000000000001E40000000000000214000000000000023400000000000002540000000000000274000000000000029400000000000002B400000000000002D400000000000002F4000000000008030400000000000803140000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000');
CREATE TABLE settings (
	id INTEGER NOT NULL, 
	house_name VARCHAR NOT NULL, 
	is_demo BOOLEAN NOT NULL, 
	currency VARCHAR NOT NULL, 
	oz_ml DOUBLE NOT NULL, 
	alcohol_units VARCHAR NOT NULL, 
	freezer_c DOUBLE NOT NULL, 
	fridge_c DOUBLE NOT NULL, 
	room_c DOUBLE NOT NULL, 
	ice_well_c DOUBLE NOT NULL, 
	fizz_loss_pct DOUBLE NOT NULL, 
	wash_line_pct DOUBLE NOT NULL, 
	paper_size VARCHAR NOT NULL, 
	CONSTRAINT pk_settings PRIMARY KEY (id), 
	CONSTRAINT ck_settings_id_in_range CHECK (id BETWEEN 0 AND 1000000), 
	CONSTRAINT ck_settings_is_demo_in_range CHECK (is_demo IN (FALSE, TRUE)), 
	CONSTRAINT ck_settings_oz_ml_in_range CHECK (oz_ml BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_settings_freezer_c_in_range CHECK (freezer_c BETWEEN -273.15 AND 1000.0), 
	CONSTRAINT ck_settings_fridge_c_in_range CHECK (fridge_c BETWEEN -273.15 AND 1000.0), 
	CONSTRAINT ck_settings_room_c_in_range CHECK (room_c BETWEEN -273.15 AND 1000.0), 
	CONSTRAINT ck_settings_ice_well_c_in_range CHECK (ice_well_c BETWEEN -273.15 AND 1000.0), 
	CONSTRAINT ck_settings_fizz_loss_pct_in_range CHECK (fizz_loss_pct BETWEEN 0.0 AND 10000.0), 
	CONSTRAINT ck_settings_wash_line_pct_in_range CHECK (wash_line_pct BETWEEN 0.0 AND 10000.0), 
	CONSTRAINT ck_settings_is_one_row CHECK (id = 0)
);
INSERT INTO "settings" VALUES(0,'Back bar',0,'EUR',29.5735,'au',-18.0,4.0,21.0,0.0,25.0,82.5,'a5');
CREATE TABLE step (
	id INTEGER NOT NULL, 
	kind VARCHAR NOT NULL, 
	build_id INTEGER NOT NULL, 
	place DOUBLE NOT NULL, 
	words VARCHAR NOT NULL, 
	left_out BOOLEAN NOT NULL, 
	item_id INTEGER, 
	amount_number DOUBLE, 
	amount_unit VARCHAR, 
	amount_basis VARCHAR, 
	amount_typed VARCHAR, 
	temperature_c DOUBLE, 
	in_liquid BOOLEAN, 
	duration_s DOUBLE, 
	temperature_low_c DOUBLE, 
	temperature_high_c DOUBLE, 
	weighed_g DOUBLE, 
	expected_pct DOUBLE, 
	low_pct DOUBLE, 
	high_pct DOUBLE, 
	leftover_id INTEGER, 
	leftover_weighed_g DOUBLE, 
	final_g DOUBLE, 
	final_pct DOUBLE, 
	ethanol_kept_pct DOUBLE, 
	method VARCHAR, 
	ice VARCHAR, 
	ice_g DOUBLE, 
	count DOUBLE, 
	count_unit VARCHAR, 
	melted_g DOUBLE, 
	final_ml DOUBLE, 
	CONSTRAINT pk_step PRIMARY KEY (id), 
	CONSTRAINT ck_step_id_in_range CHECK (id BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT ck_step_kind_is_known CHECK (kind IN ('add', 'top', 'garnish', 'take', 'blend', 'rest', 'note', 'strain', 'heat', 'reduce', 'dry', 'chill')), 
	CONSTRAINT fk_step_build_id_build FOREIGN KEY(build_id) REFERENCES build (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_step_build_id_in_range CHECK (build_id BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT ck_step_place_in_range CHECK (place BETWEEN -1000000000000.0 AND 1000000000000.0), 
	CONSTRAINT ck_step_left_out_in_range CHECK (left_out IN (FALSE, TRUE)), 
	CONSTRAINT fk_step_item_id_item FOREIGN KEY(item_id) REFERENCES item (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_step_item_id_in_range CHECK (item_id BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT ck_step_amount_number_in_range CHECK (amount_number BETWEEN 0.0 AND 1000000000000.0), 
	CONSTRAINT ck_step_amount_basis_is_known CHECK (amount_basis IN ('absolute', 'percent_of_vessel', 'percent_of_lines', 'parts', 'to_volume', 'to_mass', 'to_wash_line')), 
	CONSTRAINT ck_step_temperature_c_in_range CHECK (temperature_c BETWEEN -273.15 AND 1000.0), 
	CONSTRAINT ck_step_in_liquid_in_range CHECK (in_liquid IN (FALSE, TRUE)), 
	CONSTRAINT ck_step_duration_s_in_range CHECK (duration_s BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_step_temperature_low_c_in_range CHECK (temperature_low_c BETWEEN -273.15 AND 1000.0), 
	CONSTRAINT ck_step_temperature_high_c_in_range CHECK (temperature_high_c BETWEEN -273.15 AND 1000.0), 
	CONSTRAINT ck_step_weighed_g_in_range CHECK (weighed_g BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_step_expected_pct_in_range CHECK (expected_pct BETWEEN 0.0 AND 10000.0), 
	CONSTRAINT ck_step_low_pct_in_range CHECK (low_pct BETWEEN 0.0 AND 10000.0), 
	CONSTRAINT ck_step_high_pct_in_range CHECK (high_pct BETWEEN 0.0 AND 10000.0), 
	CONSTRAINT fk_step_leftover_id_leftover FOREIGN KEY(leftover_id) REFERENCES leftover (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_step_leftover_id_in_range CHECK (leftover_id BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT ck_step_leftover_weighed_g_in_range CHECK (leftover_weighed_g BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_step_final_g_in_range CHECK (final_g BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_step_final_pct_in_range CHECK (final_pct BETWEEN 0.0 AND 10000.0), 
	CONSTRAINT ck_step_ethanol_kept_pct_in_range CHECK (ethanol_kept_pct BETWEEN 0.0 AND 10000.0), 
	CONSTRAINT fk_step_method_method FOREIGN KEY(method) REFERENCES method (slug) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_step_ice_g_in_range CHECK (ice_g BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_step_count_in_range CHECK (count BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_step_melted_g_in_range CHECK (melted_g BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_step_final_ml_in_range CHECK (final_ml BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_step_item_id_of_kind CHECK ((item_id IS NOT NULL) = (kind IN ('add', 'top', 'garnish'))), 
	CONSTRAINT ck_step_amount_number_of_kind CHECK ((amount_number IS NOT NULL) = (kind IN ('add', 'top', 'garnish', 'take'))), 
	CONSTRAINT ck_step_amount_unit_of_kind CHECK ((amount_unit IS NOT NULL) = (kind IN ('add', 'top', 'garnish', 'take'))), 
	CONSTRAINT ck_step_amount_basis_of_kind CHECK ((amount_basis IS NOT NULL) = (kind IN ('add', 'top', 'garnish', 'take'))), 
	CONSTRAINT ck_step_amount_typed_of_kind CHECK ((amount_typed IS NOT NULL) = (kind IN ('add', 'top', 'garnish', 'take'))), 
	CONSTRAINT ck_step_in_liquid_of_kind CHECK ((in_liquid IS NOT NULL) = (kind IN ('garnish'))), 
	CONSTRAINT ck_step_method_of_kind CHECK ((method IS NOT NULL) = (kind IN ('chill'))), 
	CONSTRAINT ck_step_ice_of_kind CHECK ((ice IS NOT NULL) = (kind IN ('chill'))), 
	CONSTRAINT ck_step_count_unit_of_kind CHECK ((count_unit IS NOT NULL) = (kind IN ('chill'))), 
	CONSTRAINT ck_step_temperature_c_of_kind CHECK (temperature_c IS NULL OR kind IN ('add', 'top')), 
	CONSTRAINT ck_step_duration_s_of_kind CHECK (duration_s IS NULL OR kind IN ('blend', 'rest', 'note', 'strain', 'heat', 'reduce', 'dry', 'chill')), 
	CONSTRAINT ck_step_temperature_low_c_of_kind CHECK (temperature_low_c IS NULL OR kind IN ('blend', 'rest', 'note', 'strain', 'heat', 'reduce', 'dry', 'chill')), 
	CONSTRAINT ck_step_temperature_high_c_of_kind CHECK (temperature_high_c IS NULL OR kind IN ('blend', 'rest', 'note', 'strain', 'heat', 'reduce', 'dry', 'chill')), 
	CONSTRAINT ck_step_weighed_g_of_kind CHECK (weighed_g IS NULL OR kind IN ('strain')), 
	CONSTRAINT ck_step_expected_pct_of_kind CHECK (expected_pct IS NULL OR kind IN ('strain')), 
	CONSTRAINT ck_step_low_pct_of_kind CHECK (low_pct IS NULL OR kind IN ('strain')), 
	CONSTRAINT ck_step_high_pct_of_kind CHECK (high_pct IS NULL OR kind IN ('strain')), 
	CONSTRAINT ck_step_leftover_weighed_g_of_kind CHECK (leftover_weighed_g IS NULL OR kind IN ('strain')), 
	CONSTRAINT ck_step_leftover_id_of_kind CHECK (leftover_id IS NULL OR kind IN ('strain', 'take')), 
	CONSTRAINT ck_step_final_g_of_kind CHECK (final_g IS NULL OR kind IN ('heat', 'reduce', 'dry', 'chill')), 
	CONSTRAINT ck_step_final_pct_of_kind CHECK (final_pct IS NULL OR kind IN ('heat', 'reduce', 'dry')), 
	CONSTRAINT ck_step_ethanol_kept_pct_of_kind CHECK (ethanol_kept_pct IS NULL OR kind IN ('heat', 'reduce', 'dry')), 
	CONSTRAINT ck_step_ice_g_of_kind CHECK (ice_g IS NULL OR kind IN ('chill')), 
	CONSTRAINT ck_step_count_of_kind CHECK (count IS NULL OR kind IN ('chill')), 
	CONSTRAINT ck_step_melted_g_of_kind CHECK (melted_g IS NULL OR kind IN ('chill')), 
	CONSTRAINT ck_step_final_ml_of_kind CHECK (final_ml IS NULL OR kind IN ('chill'))
);
INSERT INTO "step" VALUES(101,'add',10,1.0,'',0,1,500.0,'g','absolute','½ kg',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(102,'add',10,2.0,'',0,4,30.0,'%','percent_of_lines','30%',80.0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(103,'blend',10,3.0,'smooth',0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,60.0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(104,'rest',10,4.0,'',0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,86400.0,2.0,5.0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(105,'heat',10,5.0,'',0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,90.0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(106,'reduce',10,6.0,'',0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,400.0,NULL,0.0,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(107,'strain',10,7.0,'',0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,80.0,75.0,85.0,11,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(108,'take',10,8.0,'',0,NULL,50.0,'g','absolute','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(109,'dry',10,9.0,'',1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(200,'add',20,1.0,'',0,10,22.5,'ml','absolute','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(201,'add',20,1.5,'',0,2,50.0,'ml','absolute','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(202,'chill',20,2.0,'',0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'stir','',NULL,10.0,'turns',18.25,NULL);
INSERT INTO "step" VALUES(203,'top',20,3.0,'',0,3,0.0,'','to_wash_line','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(204,'garnish',20,4.0,'',0,4,1.0,'piece','absolute','',NULL,1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(21000,'add',21,1.0,'',0,10,22.5,'ml','absolute','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(21001,'add',21,1.5,'',0,2,45.0,'ml','absolute','1 1/2 oz',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(21002,'chill',21,2.0,'',0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'stir','',NULL,10.0,'turns',18.25,NULL);
INSERT INTO "step" VALUES(21003,'top',21,3.0,'',0,3,0.0,'','to_wash_line','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(21004,'garnish',21,4.0,'',0,4,1.0,'piece','absolute','',NULL,1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
CREATE TABLE step_base (
	step_id INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	base_id INTEGER NOT NULL, 
	CONSTRAINT pk_step_base PRIMARY KEY (step_id, position), 
	CONSTRAINT fk_step_base_step_id_step FOREIGN KEY(step_id) REFERENCES step (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_step_base_step_id_in_range CHECK (step_id BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT ck_step_base_position_in_range CHECK (position BETWEEN 0 AND 1000000), 
	CONSTRAINT fk_step_base_base_id_step FOREIGN KEY(base_id) REFERENCES step (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_step_base_base_id_in_range CHECK (base_id BETWEEN 1 AND 9007199254740991)
);
INSERT INTO "step_base" VALUES(102,0,101);
CREATE TABLE target (
	id INTEGER NOT NULL, 
	name VARCHAR NOT NULL, 
	CONSTRAINT pk_target PRIMARY KEY (id), 
	CONSTRAINT ck_target_id_in_range CHECK (id BETWEEN 1 AND 9007199254740991)
);
INSERT INTO "target" VALUES(30,'long');
CREATE TABLE target_aim (
	target_id INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	reading VARCHAR NOT NULL, 
	low DOUBLE NOT NULL, 
	ideal DOUBLE NOT NULL, 
	high DOUBLE NOT NULL, 
	is_gate BOOLEAN NOT NULL, 
	source VARCHAR NOT NULL, 
	note VARCHAR NOT NULL, 
	CONSTRAINT pk_target_aim PRIMARY KEY (target_id, position), 
	CONSTRAINT fk_target_aim_target_id_target FOREIGN KEY(target_id) REFERENCES target (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_target_aim_target_id_in_range CHECK (target_id BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT ck_target_aim_position_in_range CHECK (position BETWEEN 0 AND 1000000), 
	CONSTRAINT ck_target_aim_low_in_range CHECK (low BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_target_aim_ideal_in_range CHECK (ideal BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_target_aim_high_in_range CHECK (high BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_target_aim_is_gate_in_range CHECK (is_gate IN (FALSE, TRUE)), 
	CONSTRAINT ck_target_aim_in_order CHECK (low <= ideal AND ideal <= high)
);
INSERT INTO "target_aim" VALUES(30,0,'strength',0.0,0.0,0.5,1,'','local figure');
INSERT INTO "target_aim" VALUES(30,1,'sweetness',2.0,5.0,7.5,0,'','');
INSERT INTO "target_aim" VALUES(30,2,'acidity',0.15,0.3,0.5,0,'','');
INSERT INTO "target_aim" VALUES(30,3,'chill',-6.0,-4.0,-2.0,0,'','');
CREATE INDEX ix_build_parent_id ON build (parent_id);
CREATE INDEX ix_build_target_id ON build (target_id);
CREATE INDEX ix_journal_change_build_id ON journal_change (build_id);
CREATE INDEX ix_leftover_build_id ON leftover (build_id);
CREATE INDEX ix_step_build_id ON step (build_id);
CREATE INDEX ix_step_item_id ON step (item_id);
CREATE INDEX ix_step_leftover_id ON step (leftover_id);
CREATE INDEX ix_step_base_base_id ON step_base (base_id);
COMMIT;
