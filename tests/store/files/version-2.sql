PRAGMA application_id=1464617026;
PRAGMA user_version=2;
BEGIN TRANSACTION;
CREATE TABLE alembic_version (
	version_num VARCHAR(32) NOT NULL, 
	CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num)
);
INSERT INTO "alembic_version" VALUES('0002');
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
	acts_as_id INTEGER, 
	value_per_kg DOUBLE, 
	keeps_by VARCHAR NOT NULL, 
	price DOUBLE, 
	labour_min DOUBLE, 
	waste_pct DOUBLE, 
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
	CONSTRAINT ck_build_pour_ml_in_range CHECK (pour_ml BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT fk_build_acts_as_id_raw FOREIGN KEY(acts_as_id) REFERENCES raw (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_build_acts_as_id_in_range CHECK (acts_as_id BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT ck_build_value_per_kg_in_range CHECK (value_per_kg BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_build_price_in_range CHECK (price BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_build_labour_min_in_range CHECK (labour_min BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_build_waste_pct_in_range CHECK (waste_pct BETWEEN 0.0 AND 10000.0)
);
INSERT INTO "build" VALUES(10,'part','Lime cordial','',NULL,NULL,NULL,NULL,NULL,NULL,0,'fridge',7,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'',NULL,NULL,NULL,'');
INSERT INTO "build" VALUES(20,'drink','Tall lime','','highball',NULL,0.0,NULL,30,NULL,0,'fridge',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'',NULL,NULL,NULL,'a bright afternoon');
INSERT INTO "build" VALUES(21,'drink','Tall lime, twisted','','highball',NULL,0.0,NULL,30,20,1,'fridge',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'',NULL,NULL,NULL,'a bright afternoon');
INSERT INTO "build" VALUES(40,'part','Peel brew','',NULL,NULL,NULL,NULL,NULL,NULL,0,'fridge',NULL,NULL,NULL,NULL,NULL,NULL,1,12.0,'frozen',4.5,25.0,5.0,'');
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
CREATE TABLE build_may_contain (
	build_id INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	allergen VARCHAR NOT NULL, 
	CONSTRAINT pk_build_may_contain PRIMARY KEY (build_id, position), 
	CONSTRAINT fk_build_may_contain_build_id_build FOREIGN KEY(build_id) REFERENCES build (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_build_may_contain_build_id_in_range CHECK (build_id BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT ck_build_may_contain_position_in_range CHECK (position BETWEEN 0 AND 1000000)
);
INSERT INTO "build_may_contain" VALUES(40,0,'gluten');
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
INSERT INTO "item" VALUES(5,'raw');
INSERT INTO "item" VALUES(10,'build');
INSERT INTO "item" VALUES(11,'leftover');
INSERT INTO "item" VALUES(20,'build');
INSERT INTO "item" VALUES(21,'build');
INSERT INTO "item" VALUES(40,'build');
INSERT INTO "item" VALUES(41,'leftover');
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
INSERT INTO "journal" VALUES(2,'change of Shake','2026-03-01 18:40:05.250000',0,NULL);
INSERT INTO "journal" VALUES(3,'change of egg white','2026-03-01 18:40:05.250000',0,NULL);
INSERT INTO "journal" VALUES(4,'removing Paddle','2026-03-01 18:40:05.250000',0,NULL);
INSERT INTO "journal" VALUES(5,'change of grain spirit','2026-03-01 18:40:05.250000',0,NULL);
INSERT INTO "journal" VALUES(6,'weighed melt','2026-03-01 18:40:05.250000',1,'2026-03-01 18:40:05.250000');
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
	CONSTRAINT ck_journal_change_table_name_is_known CHECK (table_name IN ('settings', 'raw', 'build', 'step', 'leftover', 'target', 'glass', 'method', 'measure', 'making')), 
	CONSTRAINT ck_journal_change_build_id_in_range CHECK (build_id BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT ck_journal_change_says_something CHECK (row_before IS NOT NULL OR row_after IS NOT NULL)
)
 WITHOUT ROWID

;
INSERT INTO "journal_change" VALUES(2,0,'method','shake',NULL,'{"type":"method","slug":"shake","name":"Shake","ice":"cubes 30 mm","ice_g":200.0,"time_low_s":10.0,"time_high_s":15.0,"dilution_low_pct":48.0,"dilution_high_pct":62.0,"end_low_c":-8.0,"end_high_c":-3.0,"source":"a book","source_kind":"","note":""}','{"type":"method","slug":"shake","name":"Shake","ice":"cubes 30 mm","ice_g":200.0,"time_low_s":10.0,"time_high_s":15.0,"dilution_low_pct":0.30000000000000004,"dilution_high_pct":62.0,"end_low_c":-8.0,"end_high_c":-3.0,"source":"a book","source_kind":"","note":"our own — ‘as we shake’"}');
INSERT INTO "journal_change" VALUES(3,0,'raw','5',NULL,'{"type":"raw","id":5,"slug":"egg-white","name":"egg white of the day","category":"","form":"liquid","composition":[91.5,0.0,0.30000000000000004,null,null,null,null,null,null,null,null,null,null,null,null,null,null,null,null,null,null,null,null,0.0],"density_g_per_ml":null,"strength_pct_vol":null,"co2_g_per_l":null,"bitterness":null,"strong_cation_mmol_per_100g":null,"other_acid_name":"","ph_model":"","typical_ph_low":null,"typical_ph_high":null,"titratable_acidity_pct":null,"soluble_solids_pct":null,"sugar_uncertainty_pct":null,"acid_uncertainty_pct":null,"allergens":["unknown"],"may_contain":[],"cautions":[],"kept_at":"room","drop_ml":null,"dash_ml":null,"piece_g":null,"edible_yield":null,"edible_yield_basis":"","season_months":"","house_days":null,"prices":[],"today":null,"vegan":"","vegetarian":"","source":"","source_kind":"","from_memory_fields":"","note":"pasteurised — “Eier”"}','{"type":"raw","id":5,"slug":"egg-white","name":"egg white of the day","category":"","form":"liquid","composition":[91.5,0.0,0.30000000000000004,null,null,null,null,null,null,null,null,null,null,null,null,null,null,null,null,null,null,null,null,0.0],"density_g_per_ml":null,"strength_pct_vol":null,"co2_g_per_l":null,"bitterness":null,"strong_cation_mmol_per_100g":null,"other_acid_name":"","ph_model":"","typical_ph_low":null,"typical_ph_high":null,"titratable_acidity_pct":null,"soluble_solids_pct":null,"sugar_uncertainty_pct":null,"acid_uncertainty_pct":null,"allergens":["unknown"],"may_contain":[],"cautions":[],"kept_at":"room","drop_ml":null,"dash_ml":null,"piece_g":null,"edible_yield":null,"edible_yield_basis":"","season_months":"","house_days":2,"prices":[],"today":null,"vegan":"","vegetarian":"","source":"","source_kind":"","from_memory_fields":"","note":"pasteurised — “Eier”"}');
INSERT INTO "journal_change" VALUES(4,0,'method','paddle',NULL,'{"type":"method","slug":"paddle","name":"Paddle","ice":"","ice_g":null,"time_low_s":null,"time_high_s":null,"dilution_low_pct":10.0,"dilution_high_pct":20.0,"end_low_c":-1.0,"end_high_c":3.0,"source":"","source_kind":"","note":""}',NULL);
INSERT INTO "journal_change" VALUES(5,0,'step','201',20,'{"type":"add","id":201,"build_id":20,"place":1.5,"words":"","left_out":false,"item_id":2,"amount":{"number":45.0,"unit":"ml","basis":"absolute","of":[],"typed":"1 1/2 oz"},"temperature_c":null,"weight":"used","bought_g":null}','{"type":"add","id":201,"build_id":20,"place":1.5,"words":"","left_out":false,"item_id":2,"amount":{"number":50.0,"unit":"ml","basis":"absolute","of":[],"typed":""},"temperature_c":null,"weight":"used","bought_g":null}');
INSERT INTO "journal_change" VALUES(6,0,'step','202',20,'{"type":"chill","id":202,"build_id":20,"place":2.0,"words":"","left_out":false,"duration_s":null,"temperature_low_c":null,"temperature_high_c":null,"method":"stir","ice":"","ice_g":null,"count":10.0,"count_unit":"turns","melted_g":18.25,"final_g":null,"final_ml":null}','{"type":"chill","id":202,"build_id":20,"place":2.0,"words":"","left_out":false,"duration_s":null,"temperature_low_c":null,"temperature_high_c":null,"method":"stir","ice":"","ice_g":null,"count":10.0,"count_unit":"turns","melted_g":24.75,"final_g":null,"final_ml":null}');
CREATE TABLE leftover (
	id INTEGER NOT NULL, 
	build_id INTEGER NOT NULL, 
	name VARCHAR NOT NULL, 
	kept_at VARCHAR NOT NULL, 
	house_days INTEGER, 
	piece_g DOUBLE, 
	bitterness DOUBLE, 
	acts_as_id INTEGER, 
	value_per_kg DOUBLE, 
	CONSTRAINT pk_leftover PRIMARY KEY (id), 
	CONSTRAINT fk_leftover_id_item FOREIGN KEY(id) REFERENCES item (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_leftover_id_in_range CHECK (id BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT fk_leftover_build_id_build FOREIGN KEY(build_id) REFERENCES build (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_leftover_build_id_in_range CHECK (build_id BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT ck_leftover_kept_at_is_known CHECK (kept_at IN ('freezer', 'fridge', 'room', 'ice_well')), 
	CONSTRAINT ck_leftover_house_days_in_range CHECK (house_days BETWEEN 0 AND 1000000), 
	CONSTRAINT ck_leftover_piece_g_in_range CHECK (piece_g BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_leftover_bitterness_in_range CHECK (bitterness BETWEEN 0.0 AND 100.0), 
	CONSTRAINT fk_leftover_acts_as_id_raw FOREIGN KEY(acts_as_id) REFERENCES raw (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_leftover_acts_as_id_in_range CHECK (acts_as_id BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT ck_leftover_value_per_kg_in_range CHECK (value_per_kg BETWEEN 0.0 AND 1000000000.0)
);
INSERT INTO "leftover" VALUES(11,10,'lime pulp','fridge',2,NULL,NULL,NULL,NULL);
INSERT INTO "leftover" VALUES(41,40,'brew lees','fridge',NULL,NULL,2.5,4,1.5);
CREATE TABLE leftover_may_contain (
	leftover_id INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	allergen VARCHAR NOT NULL, 
	CONSTRAINT pk_leftover_may_contain PRIMARY KEY (leftover_id, position), 
	CONSTRAINT fk_leftover_may_contain_leftover_id_leftover FOREIGN KEY(leftover_id) REFERENCES leftover (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_leftover_may_contain_leftover_id_in_range CHECK (leftover_id BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT ck_leftover_may_contain_position_in_range CHECK (position BETWEEN 0 AND 1000000)
);
INSERT INTO "leftover_may_contain" VALUES(41,0,'milk');
CREATE TABLE making (
	id INTEGER NOT NULL, 
	build_id INTEGER NOT NULL, 
	date VARCHAR NOT NULL, 
	note VARCHAR NOT NULL, 
	CONSTRAINT pk_making PRIMARY KEY (id), 
	CONSTRAINT ck_making_id_in_range CHECK (id BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT fk_making_build_id_build FOREIGN KEY(build_id) REFERENCES build (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_making_build_id_in_range CHECK (build_id BETWEEN 1 AND 9007199254740991)
);
INSERT INTO "making" VALUES(42,40,'2026-02-27','slow');
CREATE TABLE making_yield (
	making_id INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	step_id INTEGER NOT NULL, 
	before_g DOUBLE NOT NULL, 
	weighed_g DOUBLE NOT NULL, 
	CONSTRAINT pk_making_yield PRIMARY KEY (making_id, position), 
	CONSTRAINT fk_making_yield_making_id_making FOREIGN KEY(making_id) REFERENCES making (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_making_yield_making_id_in_range CHECK (making_id BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT ck_making_yield_position_in_range CHECK (position BETWEEN 0 AND 1000000), 
	CONSTRAINT fk_making_yield_step_id_step FOREIGN KEY(step_id) REFERENCES step (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_making_yield_step_id_in_range CHECK (step_id BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT ck_making_yield_before_g_in_range CHECK (before_g BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_making_yield_weighed_g_in_range CHECK (weighed_g BETWEEN 0.0 AND 1000000000.0)
);
INSERT INTO "making_yield" VALUES(42,0,405,820.0,701.5);
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
INSERT INTO "method" VALUES('shake','Shake','cubes 30 mm',200.0,10.0,15.0,3.00000000000000044408e-01,62.0,-8.0,-3.0,'a book','','our own — ‘as we shake’');
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
INSERT INTO "raw" VALUES(1,'lime-juice','lime juice','','liquid',91.5,0.0,3.00000000000000044408e-01,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,0.0,NULL,NULL,NULL,NULL,NULL,'','',NULL,NULL,NULL,NULL,NULL,NULL,'room',NULL,NULL,NULL,NULL,'','',NULL,'','','','','','');
INSERT INTO "raw" VALUES(2,'grain-spirit','grain spirit','','liquid',91.5,0.0,3.00000000000000044408e-01,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,0.0,NULL,NULL,NULL,NULL,NULL,'','',NULL,NULL,NULL,NULL,NULL,NULL,'room',NULL,NULL,NULL,NULL,'','',NULL,'','','','','','');
INSERT INTO "raw" VALUES(3,'soda-water','soda water','','liquid',91.5,0.0,3.00000000000000044408e-01,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,0.0,NULL,NULL,NULL,NULL,NULL,'','',NULL,NULL,NULL,NULL,NULL,NULL,'fridge',NULL,NULL,NULL,NULL,'','',NULL,'','','','','','');
INSERT INTO "raw" VALUES(4,'lime-peel','lime peel','','solid',91.5,0.0,3.00000000000000044408e-01,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,0.0,NULL,NULL,NULL,NULL,NULL,'','',NULL,NULL,NULL,NULL,NULL,NULL,'room',NULL,NULL,1.25,NULL,'','',NULL,'','','','','','');
INSERT INTO "raw" VALUES(5,'egg-white','egg white of the day','','liquid',91.5,0.0,3.00000000000000044408e-01,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,0.0,NULL,NULL,NULL,NULL,NULL,'','',NULL,NULL,NULL,NULL,NULL,NULL,'room',NULL,NULL,NULL,NULL,'','',2,'','','','','','pasteurised — “Eier”');
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
INSERT INTO "raw_allergen" VALUES(5,0,'unknown');
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
CREATE TABLE raw_may_contain (
	raw_id INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	allergen VARCHAR NOT NULL, 
	CONSTRAINT pk_raw_may_contain PRIMARY KEY (raw_id, position), 
	CONSTRAINT fk_raw_may_contain_raw_id_raw FOREIGN KEY(raw_id) REFERENCES raw (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_raw_may_contain_raw_id_in_range CHECK (raw_id BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT ck_raw_may_contain_position_in_range CHECK (position BETWEEN 0 AND 1000000)
);
INSERT INTO "raw_may_contain" VALUES(1,0,'celery');
INSERT INTO "raw_may_contain" VALUES(1,1,'nuts');
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
CREATE TABLE raw_today (
	raw_id INTEGER NOT NULL, 
	sugars_pct DOUBLE NOT NULL, 
	acids_pct DOUBLE NOT NULL, 
	until VARCHAR NOT NULL, 
	how VARCHAR NOT NULL, 
	CONSTRAINT pk_raw_today PRIMARY KEY (raw_id), 
	CONSTRAINT fk_raw_today_raw_id_raw FOREIGN KEY(raw_id) REFERENCES raw (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_raw_today_raw_id_in_range CHECK (raw_id BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT ck_raw_today_sugars_pct_in_range CHECK (sugars_pct BETWEEN -100.0 AND 10000.0), 
	CONSTRAINT ck_raw_today_acids_pct_in_range CHECK (acids_pct BETWEEN -100.0 AND 10000.0)
);
INSERT INTO "raw_today" VALUES(1,-12.5,8.0,'2026-03-02T02:00','a strip read pH 2.5');
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
	ph DOUBLE, 
	water_activity DOUBLE, 
	freezing DOUBLE, 
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
	ph_more DOUBLE, 
	water_activity_more DOUBLE, 
	freezing_more DOUBLE, 
	exact BLOB NOT NULL, 
	CONSTRAINT pk_result PRIMARY KEY (item_id), 
	CONSTRAINT fk_result_item_id_build FOREIGN KEY(item_id) REFERENCES build (id) ON DELETE CASCADE DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_result_item_id_in_range CHECK (item_id BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT ck_result_journal_number_in_range CHECK (journal_number BETWEEN 0 AND 9007199254740991), 
	CONSTRAINT ck_result_flags_in_range CHECK (flags BETWEEN 0 AND 9223372036854775807), 
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
	CONSTRAINT ck_result_ph_in_range CHECK (ph BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_result_water_activity_in_range CHECK (water_activity BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_result_freezing_in_range CHECK (freezing BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
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
	CONSTRAINT ck_result_mass_more_in_range CHECK (mass_more BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_result_ph_more_in_range CHECK (ph_more BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_result_water_activity_more_in_range CHECK (water_activity_more BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_result_freezing_more_in_range CHECK (freezing_more BETWEEN -1000000000000000.0 AND 1000000000000000.0)
);
INSERT INTO "result" VALUES(20,2,'stamp',0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,0.0,X'000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000000');
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
	joint_cost VARCHAR NOT NULL, 
	tax_pct DOUBLE NOT NULL, 
	wanted_pour_cost_pct DOUBLE NOT NULL, 
	labour_per_hour DOUBLE, 
	service_ends VARCHAR NOT NULL, 
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
	CONSTRAINT ck_settings_joint_cost_is_known CHECK (joint_cost IN ('main', 'mass', 'value')), 
	CONSTRAINT ck_settings_tax_pct_in_range CHECK (tax_pct BETWEEN 0.0 AND 10000.0), 
	CONSTRAINT ck_settings_wanted_pour_cost_pct_in_range CHECK (wanted_pour_cost_pct BETWEEN 0.0 AND 10000.0), 
	CONSTRAINT ck_settings_labour_per_hour_in_range CHECK (labour_per_hour BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_settings_is_one_row CHECK (id = 0)
);
INSERT INTO "settings" VALUES(0,'Back bar',0,'EUR',29.5735,'au',-18.0,4.0,20.0,0.0,25.0,82.5,'a5','mass',20.0,20.0,18.5,'02:00');
CREATE TABLE settings_shared (
	settings_id INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	entry INTEGER NOT NULL, 
	place VARCHAR NOT NULL, 
	allergen VARCHAR, 
	CONSTRAINT pk_settings_shared PRIMARY KEY (settings_id, position), 
	CONSTRAINT fk_settings_shared_settings_id_settings FOREIGN KEY(settings_id) REFERENCES settings (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_settings_shared_settings_id_in_range CHECK (settings_id BETWEEN 0 AND 1000000), 
	CONSTRAINT ck_settings_shared_position_in_range CHECK (position BETWEEN 0 AND 1000000), 
	CONSTRAINT ck_settings_shared_entry_in_range CHECK (entry BETWEEN 0 AND 1000000)
);
INSERT INTO "settings_shared" VALUES(0,0,0,'tins','milk');
INSERT INTO "settings_shared" VALUES(0,1,0,'tins','eggs');
INSERT INTO "settings_shared" VALUES(0,2,1,'freezer',NULL);
INSERT INTO "settings_shared" VALUES(0,3,2,'tins','nuts');
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
	weight VARCHAR, 
	bought_g DOUBLE, 
	in_liquid BOOLEAN, 
	duration_s DOUBLE, 
	temperature_low_c DOUBLE, 
	temperature_high_c DOUBLE, 
	water_given_pct DOUBLE, 
	sugars_given_pct DOUBLE, 
	acids_given_pct DOUBLE, 
	salt_given_pct DOUBLE, 
	solids_given_pct DOUBLE, 
	given_spread_pct DOUBLE, 
	wash_kind VARCHAR, 
	fat_held_pct DOUBLE, 
	protein_held_pct DOUBLE, 
	acids_held_pct DOUBLE, 
	way VARCHAR, 
	weighed_g DOUBLE, 
	expected_pct DOUBLE, 
	low_pct DOUBLE, 
	high_pct DOUBLE, 
	leftover_id INTEGER, 
	leftover_weighed_g DOUBLE, 
	measured_brix DOUBLE, 
	measured_acidity_pct DOUBLE, 
	final_g DOUBLE, 
	final_pct DOUBLE, 
	final_brix DOUBLE, 
	ethanol_kept_pct DOUBLE, 
	ethanol_way VARCHAR, 
	ferment_kind VARCHAR, 
	gas_lost_g DOUBLE, 
	final_acidity_pct DOUBLE, 
	final_ph DOUBLE, 
	discard_above_ph DOUBLE, 
	discard_on_day DOUBLE, 
	goal VARCHAR, 
	goal_value DOUBLE, 
	per VARCHAR, 
	like_item_id INTEGER, 
	quantity VARCHAR, 
	measured_value DOUBLE, 
	instrument VARCHAR, 
	uncertainty DOUBLE, 
	gain DOUBLE, 
	method VARCHAR, 
	ice VARCHAR, 
	ice_g DOUBLE, 
	count DOUBLE, 
	count_unit VARCHAR, 
	melted_g DOUBLE, 
	final_ml DOUBLE, 
	CONSTRAINT pk_step PRIMARY KEY (id), 
	CONSTRAINT ck_step_id_in_range CHECK (id BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT ck_step_kind_is_known CHECK (kind IN ('add', 'infuse', 'top', 'garnish', 'take', 'blend', 'muddle', 'rest', 'note', 'wash', 'strain', 'heat', 'reduce', 'dry', 'ferment', 'adjust', 'measure', 'chill')), 
	CONSTRAINT fk_step_build_id_build FOREIGN KEY(build_id) REFERENCES build (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_step_build_id_in_range CHECK (build_id BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT ck_step_place_in_range CHECK (place BETWEEN -1000000000000.0 AND 1000000000000.0), 
	CONSTRAINT ck_step_left_out_in_range CHECK (left_out IN (FALSE, TRUE)), 
	CONSTRAINT fk_step_item_id_item FOREIGN KEY(item_id) REFERENCES item (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_step_item_id_in_range CHECK (item_id BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT ck_step_amount_number_in_range CHECK (amount_number BETWEEN 0.0 AND 1000000000000.0), 
	CONSTRAINT ck_step_amount_basis_is_known CHECK (amount_basis IN ('absolute', 'percent_of_vessel', 'percent_of_lines', 'parts', 'to_volume', 'to_mass', 'to_wash_line')), 
	CONSTRAINT ck_step_temperature_c_in_range CHECK (temperature_c BETWEEN -273.15 AND 1000.0), 
	CONSTRAINT ck_step_weight_is_known CHECK (weight IN ('used', 'trimmed', 'bought')), 
	CONSTRAINT ck_step_bought_g_in_range CHECK (bought_g BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_step_in_liquid_in_range CHECK (in_liquid IN (FALSE, TRUE)), 
	CONSTRAINT ck_step_duration_s_in_range CHECK (duration_s BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_step_temperature_low_c_in_range CHECK (temperature_low_c BETWEEN -273.15 AND 1000.0), 
	CONSTRAINT ck_step_temperature_high_c_in_range CHECK (temperature_high_c BETWEEN -273.15 AND 1000.0), 
	CONSTRAINT ck_step_water_given_pct_in_range CHECK (water_given_pct BETWEEN 0.0 AND 10000.0), 
	CONSTRAINT ck_step_sugars_given_pct_in_range CHECK (sugars_given_pct BETWEEN 0.0 AND 10000.0), 
	CONSTRAINT ck_step_acids_given_pct_in_range CHECK (acids_given_pct BETWEEN 0.0 AND 10000.0), 
	CONSTRAINT ck_step_salt_given_pct_in_range CHECK (salt_given_pct BETWEEN 0.0 AND 10000.0), 
	CONSTRAINT ck_step_solids_given_pct_in_range CHECK (solids_given_pct BETWEEN 0.0 AND 10000.0), 
	CONSTRAINT ck_step_given_spread_pct_in_range CHECK (given_spread_pct BETWEEN 0.0 AND 10000.0), 
	CONSTRAINT ck_step_wash_kind_is_known CHECK (wash_kind IN ('fat', 'milk')), 
	CONSTRAINT ck_step_fat_held_pct_in_range CHECK (fat_held_pct BETWEEN 0.0 AND 10000.0), 
	CONSTRAINT ck_step_protein_held_pct_in_range CHECK (protein_held_pct BETWEEN 0.0 AND 10000.0), 
	CONSTRAINT ck_step_acids_held_pct_in_range CHECK (acids_held_pct BETWEEN 0.0 AND 10000.0), 
	CONSTRAINT ck_step_weighed_g_in_range CHECK (weighed_g BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_step_expected_pct_in_range CHECK (expected_pct BETWEEN 0.0 AND 10000.0), 
	CONSTRAINT ck_step_low_pct_in_range CHECK (low_pct BETWEEN 0.0 AND 10000.0), 
	CONSTRAINT ck_step_high_pct_in_range CHECK (high_pct BETWEEN 0.0 AND 10000.0), 
	CONSTRAINT fk_step_leftover_id_leftover FOREIGN KEY(leftover_id) REFERENCES leftover (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_step_leftover_id_in_range CHECK (leftover_id BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT ck_step_leftover_weighed_g_in_range CHECK (leftover_weighed_g BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_step_measured_brix_in_range CHECK (measured_brix BETWEEN -100.0 AND 200.0), 
	CONSTRAINT ck_step_measured_acidity_pct_in_range CHECK (measured_acidity_pct BETWEEN 0.0 AND 10000.0), 
	CONSTRAINT ck_step_final_g_in_range CHECK (final_g BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_step_final_pct_in_range CHECK (final_pct BETWEEN 0.0 AND 10000.0), 
	CONSTRAINT ck_step_final_brix_in_range CHECK (final_brix BETWEEN -100.0 AND 200.0), 
	CONSTRAINT ck_step_ethanol_kept_pct_in_range CHECK (ethanol_kept_pct BETWEEN 0.0 AND 10000.0), 
	CONSTRAINT ck_step_ferment_kind_is_known CHECK (ferment_kind IN ('lactic', 'yeast')), 
	CONSTRAINT ck_step_gas_lost_g_in_range CHECK (gas_lost_g BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_step_final_acidity_pct_in_range CHECK (final_acidity_pct BETWEEN 0.0 AND 10000.0), 
	CONSTRAINT ck_step_final_ph_in_range CHECK (final_ph BETWEEN -2.0 AND 16.0), 
	CONSTRAINT ck_step_discard_above_ph_in_range CHECK (discard_above_ph BETWEEN -2.0 AND 16.0), 
	CONSTRAINT ck_step_discard_on_day_in_range CHECK (discard_on_day BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_step_goal_is_known CHECK (goal IN ('brix', 'acidity', 'strength', 'salt')), 
	CONSTRAINT ck_step_goal_value_in_range CHECK (goal_value BETWEEN 0.0 AND 1000000000000.0), 
	CONSTRAINT ck_step_per_is_known CHECK (per IN ('mass', 'volume')), 
	CONSTRAINT fk_step_like_item_id_item FOREIGN KEY(like_item_id) REFERENCES item (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_step_like_item_id_in_range CHECK (like_item_id BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT ck_step_quantity_is_known CHECK (quantity IN ('mass', 'volume', 'density', 'brix', 'ph', 'acidity', 'strength')), 
	CONSTRAINT ck_step_measured_value_in_range CHECK (measured_value BETWEEN -1000000000000000.0 AND 1000000000000000.0), 
	CONSTRAINT ck_step_uncertainty_in_range CHECK (uncertainty BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_step_gain_in_range CHECK (gain BETWEEN 0.0 AND 1.0), 
	CONSTRAINT fk_step_method_method FOREIGN KEY(method) REFERENCES method (slug) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_step_ice_g_in_range CHECK (ice_g BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_step_count_in_range CHECK (count BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_step_melted_g_in_range CHECK (melted_g BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_step_final_ml_in_range CHECK (final_ml BETWEEN 0.0 AND 1000000000.0), 
	CONSTRAINT ck_step_item_id_of_kind CHECK ((item_id IS NOT NULL) = (kind IN ('add', 'infuse', 'top', 'garnish'))), 
	CONSTRAINT ck_step_amount_number_of_kind CHECK ((amount_number IS NOT NULL) = (kind IN ('add', 'infuse', 'top', 'garnish', 'take'))), 
	CONSTRAINT ck_step_amount_unit_of_kind CHECK ((amount_unit IS NOT NULL) = (kind IN ('add', 'infuse', 'top', 'garnish', 'take'))), 
	CONSTRAINT ck_step_amount_basis_of_kind CHECK ((amount_basis IS NOT NULL) = (kind IN ('add', 'infuse', 'top', 'garnish', 'take'))), 
	CONSTRAINT ck_step_amount_typed_of_kind CHECK ((amount_typed IS NOT NULL) = (kind IN ('add', 'infuse', 'top', 'garnish', 'take'))), 
	CONSTRAINT ck_step_weight_of_kind CHECK ((weight IS NOT NULL) = (kind IN ('add', 'infuse'))), 
	CONSTRAINT ck_step_in_liquid_of_kind CHECK ((in_liquid IS NOT NULL) = (kind IN ('garnish'))), 
	CONSTRAINT ck_step_wash_kind_of_kind CHECK ((wash_kind IS NOT NULL) = (kind IN ('wash'))), 
	CONSTRAINT ck_step_way_of_kind CHECK ((way IS NOT NULL) = (kind IN ('strain'))), 
	CONSTRAINT ck_step_ethanol_way_of_kind CHECK ((ethanol_way IS NOT NULL) = (kind IN ('heat', 'reduce', 'dry'))), 
	CONSTRAINT ck_step_ferment_kind_of_kind CHECK ((ferment_kind IS NOT NULL) = (kind IN ('ferment'))), 
	CONSTRAINT ck_step_goal_of_kind CHECK ((goal IS NOT NULL) = (kind IN ('adjust'))), 
	CONSTRAINT ck_step_per_of_kind CHECK ((per IS NOT NULL) = (kind IN ('adjust'))), 
	CONSTRAINT ck_step_quantity_of_kind CHECK ((quantity IS NOT NULL) = (kind IN ('measure'))), 
	CONSTRAINT ck_step_measured_value_of_kind CHECK ((measured_value IS NOT NULL) = (kind IN ('measure'))), 
	CONSTRAINT ck_step_instrument_of_kind CHECK ((instrument IS NOT NULL) = (kind IN ('measure'))), 
	CONSTRAINT ck_step_gain_of_kind CHECK ((gain IS NOT NULL) = (kind IN ('measure'))), 
	CONSTRAINT ck_step_method_of_kind CHECK ((method IS NOT NULL) = (kind IN ('chill'))), 
	CONSTRAINT ck_step_ice_of_kind CHECK ((ice IS NOT NULL) = (kind IN ('chill'))), 
	CONSTRAINT ck_step_count_unit_of_kind CHECK ((count_unit IS NOT NULL) = (kind IN ('chill'))), 
	CONSTRAINT ck_step_temperature_c_of_kind CHECK (temperature_c IS NULL OR kind IN ('add', 'infuse', 'top')), 
	CONSTRAINT ck_step_bought_g_of_kind CHECK (bought_g IS NULL OR kind IN ('add', 'infuse')), 
	CONSTRAINT ck_step_duration_s_of_kind CHECK (duration_s IS NULL OR kind IN ('blend', 'muddle', 'rest', 'note', 'infuse', 'wash', 'strain', 'heat', 'reduce', 'dry', 'ferment', 'adjust', 'measure', 'chill')), 
	CONSTRAINT ck_step_temperature_low_c_of_kind CHECK (temperature_low_c IS NULL OR kind IN ('blend', 'muddle', 'rest', 'note', 'infuse', 'wash', 'strain', 'heat', 'reduce', 'dry', 'ferment', 'adjust', 'measure', 'chill')), 
	CONSTRAINT ck_step_temperature_high_c_of_kind CHECK (temperature_high_c IS NULL OR kind IN ('blend', 'muddle', 'rest', 'note', 'infuse', 'wash', 'strain', 'heat', 'reduce', 'dry', 'ferment', 'adjust', 'measure', 'chill')), 
	CONSTRAINT ck_step_water_given_pct_of_kind CHECK (water_given_pct IS NULL OR kind IN ('infuse')), 
	CONSTRAINT ck_step_sugars_given_pct_of_kind CHECK (sugars_given_pct IS NULL OR kind IN ('infuse')), 
	CONSTRAINT ck_step_acids_given_pct_of_kind CHECK (acids_given_pct IS NULL OR kind IN ('infuse')), 
	CONSTRAINT ck_step_salt_given_pct_of_kind CHECK (salt_given_pct IS NULL OR kind IN ('infuse')), 
	CONSTRAINT ck_step_solids_given_pct_of_kind CHECK (solids_given_pct IS NULL OR kind IN ('infuse')), 
	CONSTRAINT ck_step_given_spread_pct_of_kind CHECK (given_spread_pct IS NULL OR kind IN ('infuse')), 
	CONSTRAINT ck_step_fat_held_pct_of_kind CHECK (fat_held_pct IS NULL OR kind IN ('wash')), 
	CONSTRAINT ck_step_protein_held_pct_of_kind CHECK (protein_held_pct IS NULL OR kind IN ('wash')), 
	CONSTRAINT ck_step_acids_held_pct_of_kind CHECK (acids_held_pct IS NULL OR kind IN ('wash')), 
	CONSTRAINT ck_step_weighed_g_of_kind CHECK (weighed_g IS NULL OR kind IN ('strain')), 
	CONSTRAINT ck_step_expected_pct_of_kind CHECK (expected_pct IS NULL OR kind IN ('strain')), 
	CONSTRAINT ck_step_low_pct_of_kind CHECK (low_pct IS NULL OR kind IN ('strain')), 
	CONSTRAINT ck_step_high_pct_of_kind CHECK (high_pct IS NULL OR kind IN ('strain')), 
	CONSTRAINT ck_step_leftover_weighed_g_of_kind CHECK (leftover_weighed_g IS NULL OR kind IN ('strain')), 
	CONSTRAINT ck_step_measured_brix_of_kind CHECK (measured_brix IS NULL OR kind IN ('strain')), 
	CONSTRAINT ck_step_measured_acidity_pct_of_kind CHECK (measured_acidity_pct IS NULL OR kind IN ('strain')), 
	CONSTRAINT ck_step_leftover_id_of_kind CHECK (leftover_id IS NULL OR kind IN ('strain', 'take')), 
	CONSTRAINT ck_step_final_g_of_kind CHECK (final_g IS NULL OR kind IN ('heat', 'reduce', 'dry', 'chill')), 
	CONSTRAINT ck_step_final_pct_of_kind CHECK (final_pct IS NULL OR kind IN ('heat', 'reduce', 'dry')), 
	CONSTRAINT ck_step_final_brix_of_kind CHECK (final_brix IS NULL OR kind IN ('heat', 'reduce', 'dry', 'ferment')), 
	CONSTRAINT ck_step_ethanol_kept_pct_of_kind CHECK (ethanol_kept_pct IS NULL OR kind IN ('heat', 'reduce', 'dry')), 
	CONSTRAINT ck_step_gas_lost_g_of_kind CHECK (gas_lost_g IS NULL OR kind IN ('ferment')), 
	CONSTRAINT ck_step_final_acidity_pct_of_kind CHECK (final_acidity_pct IS NULL OR kind IN ('ferment')), 
	CONSTRAINT ck_step_final_ph_of_kind CHECK (final_ph IS NULL OR kind IN ('ferment')), 
	CONSTRAINT ck_step_discard_above_ph_of_kind CHECK (discard_above_ph IS NULL OR kind IN ('ferment')), 
	CONSTRAINT ck_step_discard_on_day_of_kind CHECK (discard_on_day IS NULL OR kind IN ('ferment')), 
	CONSTRAINT ck_step_goal_value_of_kind CHECK (goal_value IS NULL OR kind IN ('adjust')), 
	CONSTRAINT ck_step_like_item_id_of_kind CHECK (like_item_id IS NULL OR kind IN ('adjust')), 
	CONSTRAINT ck_step_uncertainty_of_kind CHECK (uncertainty IS NULL OR kind IN ('measure')), 
	CONSTRAINT ck_step_ice_g_of_kind CHECK (ice_g IS NULL OR kind IN ('chill')), 
	CONSTRAINT ck_step_count_of_kind CHECK (count IS NULL OR kind IN ('chill')), 
	CONSTRAINT ck_step_melted_g_of_kind CHECK (melted_g IS NULL OR kind IN ('chill')), 
	CONSTRAINT ck_step_final_ml_of_kind CHECK (final_ml IS NULL OR kind IN ('chill')), 
	CONSTRAINT ck_step_has_one_goal CHECK (kind <> 'adjust' OR (goal_value IS NULL) <> (like_item_id IS NULL))
);
INSERT INTO "step" VALUES(101,'add',10,1.0,'',0,1,500.0,'g','absolute','½ kg',NULL,'used',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(102,'add',10,2.0,'',0,4,30.0,'%','percent_of_lines','30%',80.0,'used',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(103,'blend',10,3.0,'smooth',0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,60.0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(104,'rest',10,4.0,'',0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,86400.0,2.0,5.0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(105,'heat',10,5.0,'',0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,90.0,NULL,NULL,'',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(106,'reduce',10,6.0,'',0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,400.0,NULL,NULL,0.0,'',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(107,'strain',10,7.0,'',0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'',NULL,80.0,75.0,85.0,11,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(108,'take',10,8.0,'',0,NULL,50.0,'g','absolute','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(109,'dry',10,9.0,'',1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(110,'note',10,10.0,'52 °Bx on the refractometer',0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(200,'add',20,1.0,'',0,10,22.5,'ml','absolute','',NULL,'used',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(201,'add',20,1.5,'',0,2,50.0,'ml','absolute','',NULL,'used',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(202,'chill',20,2.0,'',0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'stir','',NULL,10.0,'turns',18.25,NULL);
INSERT INTO "step" VALUES(203,'top',20,3.0,'',0,3,0.0,'','to_wash_line','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(204,'garnish',20,4.0,'',0,4,1.0,'piece','absolute','',NULL,NULL,NULL,1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(401,'add',40,1.0,'',0,1,750.0,'g','absolute','',NULL,'bought',760.5,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(402,'muddle',40,2.0,'bruise',0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(403,'infuse',40,3.0,'',0,4,8.0,'%','percent_of_lines','',60.0,'trimmed',NULL,NULL,600.0,NULL,NULL,10.0,60.0,80.0,0.0,NULL,15.0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(404,'wash',40,4.0,'',0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'milk',NULL,82.0,3.0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(405,'strain',40,5.0,'',0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'milk',NULL,85.0,NULL,NULL,41,NULL,11.2,0.85,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(406,'ferment',40,6.0,'',0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,4.5,NULL,NULL,'yeast',6.5,0.9,3.4,4.2,3.0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(407,'adjust',40,7.0,'',0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'acidity',6.0,'volume',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(408,'adjust',40,8.0,'',1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'brix',NULL,'mass',1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(409,'measure',40,9.0,'',0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'ph',3.31,'meter',0.05,0.8,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(410,'reduce',40,10.0,'',0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,30.0,NULL,'simmered',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(21000,'add',21,1.0,'',0,10,22.5,'ml','absolute','',NULL,'used',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(21001,'add',21,1.5,'',0,2,45.0,'ml','absolute','1 1/2 oz',NULL,'used',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(21002,'chill',21,2.0,'',0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'stir','',NULL,10.0,'turns',18.25,NULL);
INSERT INTO "step" VALUES(21003,'top',21,3.0,'',0,3,0.0,'','to_wash_line','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "step" VALUES(21004,'garnish',21,4.0,'',0,4,1.0,'piece','absolute','',NULL,NULL,NULL,1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
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
INSERT INTO "step_base" VALUES(403,0,401);
CREATE TABLE step_portion (
	step_id INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	item_id INTEGER NOT NULL, 
	parts DOUBLE NOT NULL, 
	CONSTRAINT pk_step_portion PRIMARY KEY (step_id, position), 
	CONSTRAINT fk_step_portion_step_id_step FOREIGN KEY(step_id) REFERENCES step (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_step_portion_step_id_in_range CHECK (step_id BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT ck_step_portion_position_in_range CHECK (position BETWEEN 0 AND 1000000), 
	CONSTRAINT fk_step_portion_item_id_item FOREIGN KEY(item_id) REFERENCES item (id) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_step_portion_item_id_in_range CHECK (item_id BETWEEN 1 AND 9007199254740991), 
	CONSTRAINT ck_step_portion_parts_in_range CHECK (parts BETWEEN 0.0 AND 1000000000.0)
);
INSERT INTO "step_portion" VALUES(407,0,1,2.0);
INSERT INTO "step_portion" VALUES(407,1,2,1.0);
INSERT INTO "step_portion" VALUES(408,0,3,1.0);
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
CREATE INDEX ix_step_base_base_id ON step_base (base_id);
CREATE INDEX ix_build_acts_as_id ON build (acts_as_id);
CREATE INDEX ix_build_parent_id ON build (parent_id);
CREATE INDEX ix_build_target_id ON build (target_id);
CREATE INDEX ix_leftover_acts_as_id ON leftover (acts_as_id);
CREATE INDEX ix_leftover_build_id ON leftover (build_id);
CREATE INDEX ix_step_build_id ON step (build_id);
CREATE INDEX ix_step_item_id ON step (item_id);
CREATE INDEX ix_step_leftover_id ON step (leftover_id);
CREATE INDEX ix_step_like_item_id ON step (like_item_id);
CREATE INDEX ix_journal_change_build_id ON journal_change (build_id);
CREATE INDEX ix_step_portion_item_id ON step_portion (item_id);
CREATE INDEX ix_making_build_id ON making (build_id);
CREATE INDEX ix_making_yield_step_id ON making_yield (step_id);
COMMIT;
