"""The command check-values: every reference row of the quantities that it knows, and every way in which a row can fail."""

import csv
import io
from pathlib import Path

import pytest

from washline.chemistry.ranges import RANGES
from washline.cli.check_values import run

REFERENCE = Path(__file__).parent.parent / "reference"
FILES = sorted(REFERENCE.glob("*.csv"))
HEADER = "quantity,inputs,value,unit,tolerance,source,from_memory\n"


def reference_rows():
    for path in FILES:
        with path.open(encoding="utf-8", newline="") as file:
            for row in csv.DictReader(file):
                yield pytest.param(row, id=f"{path.stem}-{row['quantity']}-{row['inputs']}")


def output(*paths):
    """Exit code and printed lines of a run."""
    out = io.StringIO()
    return run(paths, out), out.getvalue().splitlines()


@pytest.fixture
def check(tmp_path):
    """Runs rows of a check file and returns exit code and printed lines."""

    def run_rows(*rows, header=HEADER):
        path = tmp_path / "rows.csv"
        path.write_text(header + "".join(f"{row}\n" for row in rows), encoding="utf-8")
        return output(path)

    return run_rows


@pytest.mark.parametrize("row", list(reference_rows()))
def test_a_reference_row_is_within_its_tolerance(row, tmp_path):
    path = tmp_path / "row.csv"
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, fieldnames=list(row))
        writer.writeheader()
        writer.writerow(row)
    code, lines = output(path)
    assert lines[0].startswith("passed"), lines[0]
    assert code == 0


def test_whole_reference_files_are_read_and_counted():
    code, lines = output(*FILES)
    assert [line for line in lines[:-1] if not line.startswith("passed")] == []
    assert lines[-1] == "429 passed, 0 failed"
    assert code == 0


@pytest.mark.parametrize(
    "name",
    [
        "abv_mass",
        "carbonation",
        "energy_serving",
        "ethanol_retained",
        "ethanol_water_density",
        "freezing_point",
        "gauging",
        "heat_dilution",
        "ph",
        "solution_density",
        "water_activity",
    ],
)
def test_a_file_that_passes_exits_with_zero(name):
    code, lines = output(REFERENCE / f"{name}.csv")
    assert code == 0
    assert lines[-1].endswith(" passed, 0 failed")


# Worked examples and tables of the physical reference that stand in no check file.
@pytest.mark.parametrize(
    "row",
    [
        '"w_from_rho","T=15.5;rho=901.42",0.570998,1,0.000001,x,no',
        '"w_from_rho","rho=901.42;T=15.5",57.0998,% mass,0.0001,x,no',
        '"rho_mixture","abv=25;gl_sucrose=300;gl_citric=5",1084.61,kg/m3,0.01,x,no',
        '"rho_mixture","abv=25;gl_sucrose=300",1082.63,kg/m3,0.01,x,no',
        '"rho_mixture","abv=25;gl_sucrose=300",1.08263,g/mL,0.00001,x,no',
        '"rho_ethanol_water","w=0.73;T=15.5",864.249,kg/m3,0.001,x,no',
        '"rho_ethanol_water","w=1;T=0",806.215,kg/m3,0.001,x,no',
        '"rho_from_abv","abv=40;T=-20",971.82,kg/m3,0.006,x,no',
        '"rho_water","T=80",971.79,kg/m³,0.01,x,no',
        '"rho_sucrose","w=0.65",1316.56,kg/m3,0.01,x,no',
        '"brix_from_rho","rho=1326.75",66.7,%mass,0.05,x,no',
        '"ri_sucrose","w=0.65",1.45348,nD20,0.00001,x,no',
        '"brix_from_ri","n=1.36384",20,°Bx,0.005,x,no',
        '"abv_from_rho","rho=948.05",40,% vol,0.01,x,no',
        '"brix_refractometer","abv=20",7.6,°Bx,0.1,x,no',
        '"brix_refractometer","w_citric=0.2",17.5,°Bx,0.05,x,no',
        '"brix_true","w_sucrose=0.08;w_citric=0.01;w_ethanol=0.1",9,°Bx,0.0001,x,no',
        '"abv_mixture","w_ethanol=0.3330",40,% vol,0.01,x,no',
        '"ri_mixture","w_glucose=0.2",1.3635,1,0.0001,x,no',
        '"ta_as","gl_acetic=10;as=citric",10.66,g/L,0.01,x,no',
        '"ta_as","c_citric=0.28;c_malic=0.015;cation=0.032;as=citric",53.66,g/L,0.05,x,no',
        '"ta_as","gl_citric=6;as=tartaric",0.703,g/100 mL,0.002,x,no',
        '"cp","w_ethanol=0.4;T=0",3.90,J/gK,0.006,x,no',
        '"cp","w_ethanol=0.2;T=20",4.32,kJ/(kg·K),0.006,x,no',
        '"energy_kj","protein=1;fat=1;fibre=1;polyol=1;erythritol=5",72,kJ,0.01,x,no',
        '"alcohol_g","ml=50;abv=40",15.79,g,0.01,x,no',
        '"units","ml=50;abv=40;per=ml10;grams=8",2.0,unit,0.001,x,no',
        '"units","ml=50;abv=40;grams=14",1.1275,units,0.001,x,no',
        '"units","ml=50;abv=40;country=at",0.789,units,0.001,x,no',
        '"dilution","abv=35;how=shaken",62.1,mL/100 mL,0.06,x,no',
        '"abv_after_dilution","abv=22.9;how=shaken",15.0,%vol,0.1,x,no',
        '"mix_volume_ethanol_water","ethanol_ml=5;water_ml=5",9.646,mL,0.002,x,no',
        '"ph","c_citric=0.05;cation=0.05",3.776,pH,0.05,x,no',
        '"ph","gl_acetic=6.0052",2.88,1,0.02,x,no',
        '"ph","w_acetic=0.05",2.42,pH,0.02,x,no',
        '"ph","c_kh2po4=0.1;cation=-0.1",1.63,pH,0.04,x,no',
        '"ph","c_nahco3=0.025;c_k2co3=0.025",10.01,pH,0.03,x,no',
        '"ph","c_trisodium_citrate_2h2o=0.01667;c_citric=0.03333;c_kcl=0",3.776,pH,0.05,x,no',
        '"ph","c_co2=0.1",3.68,pH,0.04,x,no',
        '"ph","c_other_acid=0;c_succinic=0.1",2.61,pH,0.03,x,no',
        '"aw","w_sucrose=0.5",0.935,1,0.001,x,no',
        '"aw","w_sucrose=0.67",0.851,aw,0.001,x,no',
        '"aw","w_glucose=0.3;w_fructose=0.3",0.847,1,0.001,x,no',
        '"aw","w_glucose=0.35;w_fructose=0.35",0.764,1,0.001,x,no',
        '"aw","abv=40",87,%,0.6,x,no',
        '"aw_nacl_molal","m=6",76.0,%,0.2,x,no',
        '"freezing_point","w_ethanol=0.05",-2.09,°C,0.06,x,no',
        '"freezing_point","abv=25;gl_sucrose=300",-21,degC,1.0,x,no',
        '"freezing_point","w_kcl=0.04;w_fat=0.02",-1.9,C,0.1,x,no',
        '"freezing_point","w_protein=0.05",0,C,0.001,x,no',
        '"gauge_water_parts","proof=100",53.73,parts/100,0.01,x,no',
        '"gauge_water_parts","proof=200",0,volumes per 100 volumes,0.001,x,no',
        '"gauge_water_to_reduce_vol","from=112;to=100",12.42,gallons per 100 gallons,0.02,x,no',
        '"gauge_water_to_reduce_vol","from=100;to=100",0,gallons,0.0001,x,no',
        '"gauge_water_to_reduce_mass","m=1;from=200;to=190",0.08203,pounds,0.0001,x,no',
        '"ethanol_retained","way=simmered;minutes=75",22.5,%,0.001,x,no',
        '"ethanol_retained","way=closed;minutes=240",100,percent,0.001,x,no',
        '"chill_melt","abv=20;gl_sucrose=60;t0=20;ice=200",42.9,g per 100 mL,0.06,x,no',
        '"chill_melt","abv=20;gl_sucrose=60;t0=20;ice=200;t_ice=-10",31.4,g/100 mL,0.06,x,no',
        '"chill_melt","abv=20;gl_sucrose=60;t0=20;ice=200;vessel=100",0.500,g/mL,0.0006,x,no',
        '"chill_melt","abv=20;gl_sucrose=60;ml=50;t0=20;ice=50",39.5,g per 100 mL,0.06,x,no',
        '"chill_melt","w_ethanol=0;t0=20;ice=200;outside=3335.5",35.1,g per 100 mL,0.1,x,no',
        '"chill_end_temperature","abv=30;gl_sucrose=60;t0=20;ice=200;wet=6",-8.1,°C,0.06,x,no',
        '"chill_end_temperature","t0=5;ice=0;vessel=418.4;t_vessel=15",10,C,0.1,x,no',
        '"mix_temperature_rise","abv1=40;ml1=50;ml2=0;t0=20",0,K,0.0001,x,no',
        '"mix_temperature_rise","abv1=95;ml1=50;abv2=95;ml2=50;t0=20",0,K,0.0001,x,no',
        '"co2_bunsen","T=10",1.19,volumes,0.006,x,no',
        '"co2_kh","T=20",1.72,g/L/atm,0.006,x,no',
        '"co2_g_per_l","T=4;p=300",8.5,g/L,0.06,x,no',
        '"co2_g_per_l","T=4;p=300;abv=12;sugar=20",7.5,g/L,0.06,x,no',
        '"co2_pressure","T=4;gl=7",2.47,bar,0.01,x,no',
        '"co2_x1000","T=20;p_co2=100",0.000704,mol/mol,0.00002,x,no',
    ],
)
def test_a_worked_example_passes(check, row):
    code, lines = check(row)
    assert lines[0].startswith("passed"), lines[0]
    assert code == 0


def test_a_row_prints_expected_computed_difference_and_verdict(check):
    code, lines = check("energy_kj,carb=10,171,kJ,0.5,x,no")
    assert code == 1
    assert lines[0].endswith(
        "energy_kj  carb=10  expected 171 kJ, computed 170, difference -1, tolerance 0.5: OUT OF TOLERANCE"
    )
    assert lines[1] == "0 passed, 1 failed"


def test_a_difference_of_exactly_the_tolerance_passes(check):
    assert check("energy_kj,carb=10,170.1,kJ,0.1,x,no")[0] == 0


def test_a_row_is_named_by_file_and_line(check):
    _, lines = check("energy_kj,carb=10,170,kJ,0.5,x,no", "energy_kj,carb=10,0,kJ,0.5,x,no")
    assert "rows.csv:2" in lines[0]
    assert "rows.csv:3" in lines[1]


def test_a_line_break_in_a_source_does_not_shift_the_lines(check):
    _, lines = check('energy_kj,carb=10,170,kJ,0.5,"two\nlines",no', "", "energy_kj,carb=1,17,kJ,0.5,x,no")
    assert "rows.csv:2" in lines[0]
    assert "rows.csv:5" in lines[1]


@pytest.mark.parametrize(
    "row, words",
    [
        ("co2_smell,T=5,1.42,1,1,x,no", "no evaluator for 'co2_smell'"),
        ("energy_kj,carb=10,170", "3 cells under 7 columns"),
        ("energy_kj,carb=ten,170,kJ,1,x,no", "'ten', not a number"),
        ("energy_kj,carb=inf,170,kJ,1,x,no", "not a finite number"),
        ("energy_kj,carb=-1,170,kJ,1,x,no", "not between 0 and inf"),
        ("energy_kj,carb,170,kJ,1,x,no", "'carb' is not of the form name=value"),
        ("energy_kj,carb=1;carb=2,170,kJ,1,x,no", "'carb' is given twice"),
        ("energy_kj,bread=1,170,kJ,1,x,no", "none of the nutrients"),
        ("energy_kj,carb=1;bread=1,170,kJ,1,x,no", "'bread' is not one that this quantity takes"),
        ("energy_kj,carb=1,much,kJ,1,x,no", "the value is 'much', not a number"),
        ("energy_kj,carb=1,17,kJ,wide,x,no", "the tolerance is 'wide', not a number"),
        ("energy_kj,carb=1,17,kJ,-1,x,no", "the tolerance is negative"),
        ("energy_kj,carb=1,17,kcal,1,x,no", "'kcal' is no unit of energy"),
        ("rho_from_abv,T=20,950,kg/m3,1,x,no", "input 'abv' is missing"),
        ("rho_from_abv,abv=140,950,kg/m3,1,x,no", "not between 0 and 100"),
        ("rho_water,T=-300,950,kg/m3,1,x,no", "not between -273.15"),
        ("w_from_rho,rho=1300,0.5,1,1,x,no", "there is no value"),
        ("brix_from_rho,rho=900,0,%mass,1,x,no", "there is no value"),
        ("rho_solution,w_unobtainium=0.1,1,kg/m3,1,x,no", "names no component"),
        ("rho_solution,w_sucrose=0.6;w_glucose=0.6,1,kg/m3,1,x,no", "add up to more than 1"),
        ("rho_solution,w_sucrose=0.6;w_water=0.5,1,kg/m3,1,x,no", "do not add up to 1"),
        ("rho_mixture,abv=40;w_ethanol=0.1,1,kg/m3,1,x,no", "ethanol is given twice"),
        ("rho_mixture,gl_water=900,1,kg/m3,1,x,no", "cannot be given per litre"),
        ("rho_mixture,abv=90;gl_sucrose=900,1,kg/m3,1,x,no", "a litre cannot hold"),
        ("rho_mixture,w_sucrose=1;gl_citric=5,1,kg/m3,1,x,no", "leave nothing"),
        ("rho_mixture,c_fat=0.1,1,kg/m3,1,x,no", "has no molar mass"),
        ("ri_mixture,w_kcl=0.1,1.3466,1,1,x,no", "the refraction of 'kcl' is not known"),
        ("ta_as,gl_citric=6;as=sugar,7,g/L,1,x,no", "'as' is 'sugar'"),
        ("units,ml=25;abv=40,1,unit,1,x,no", "input 'country' is missing"),
        ("units,ml=25;abv=40;country=xx,1,unit,1,x,no", "has no unit in the table"),
        ("units,ml=25;abv=40;per=glass,1,unit,1,x,no", "neither 'grams' nor like 'ml10'"),
        ("dilution,abv=20;how=thrown,0.4,1,1,x,no", "neither stirred nor shaken"),
        ("mix_volume_ethanol_water,ethanol_ml=0;water_ml=0,0,mL,1,x,no", "neither ethanol nor water"),
        ("ph,c_unobtainium=0.1,2,pH,1,x,no", "names no component"),
        ("ph,c_formic=-0.1,2,pH,1,x,no", "not between 0 and inf"),
        ("ph,gl_formic=4,2,pH,1,x,no", "names no component"),
        ("ph,c_citric=0.1;cation=20,2,pH,1,x,no", "there is no value"),
        ("ph,c_citric=0.1,2,°C,1,x,no", "'°C' is no unit of pH"),
        ("aw,w_nahco3=0.05,0.98,1,1,x,no", "what 'nahco3' does to the water is not known"),
        ("aw,w_sucrose=1,0.5,1,1,x,no", "there is no water"),
        ("aw_nacl_molal,m=-1,1,1,1,x,no", "not between 0 and inf"),
        ("freezing_point,w_ethanol=0.9,-90,C,50,x,no", "there is no value"),
        ("freezing_point,w_ethanol=0.1,269,K,1,x,no", "'K' is no unit of temperature"),
        ("gauge_water_parts,proof=210,0,1,1,x,no", "not between 0 and 200"),
        ("gauge_water_to_reduce_vol,from=100;to=112,0,1,1,x,no", "100 proof cannot be reduced to 112"),
        ("gauge_water_to_reduce_vol,from=100;to=0,0,1,1,x,no", "input 'to' is 0"),
        ("gauge_water_to_reduce_mass,from=200;to=190,0,lb,1,x,no", "input 'm' is missing"),
        ("ethanol_retained,way=fried,5,%,1,x,no", "input 'way' is 'fried'"),
        ("ethanol_retained,way=simmered,5,%,1,x,no", "input 'minutes' is missing"),
        ("chill_melt,abv=20;t0=20,40,g/100ml,1,x,no", "input 'ice' is missing"),
        ("chill_melt,abv=20;ice=200,40,g/100ml,1,x,no", "input 't0' is missing"),
        ("chill_melt,abv=20;t0=20;ice=200;t_ice=5,40,g/100ml,1,x,no", "not between -40 and 0"),
        ("chill_melt,abv=20;t0=20;ice=200;eps=2,40,g/100ml,1,x,no", "not between 0 and 1"),
        ("chill_melt,abv=20;t0=20;ice=200;shaker=tin,40,g/100ml,1,x,no", "'shaker' is not one that"),
        ("chill_melt,abv=95;t0=-30;ice=200;t_ice=-30,40,g/100ml,1,x,no", "there is no value"),
        ("mix_temperature_rise,abv1=95;ml1=0;ml2=0;t0=20,0,K,1,x,no", "there is nothing to mix"),
        ("mix_temperature_rise,abv1=95;ml1=5;t0=20,0,K,1,x,no", "input 'ml2' is missing"),
        ("co2_bunsen,p_co2=100,1,1,1,x,no", "input 'T' is missing"),
        ("co2_g_per_l,T=4;p=-1,1,g/L,1,x,no", "not between 0 and inf"),
        ("co2_pressure,T=4;gl=2000,1,kPa,1,x,no", "there is no value"),
        ("co2_pressure_psig,T=4;vol=2,1,kPa,1,x,no", "'kPa' is no unit of gauge pressure"),
    ],
)
def test_a_row_that_cannot_be_judged_fails_with_its_reason(check, row, words):
    code, lines = check(row)
    assert lines[0].startswith("FAILED")
    assert "rows.csv:2" in lines[0]
    assert words in lines[0]
    assert lines[-1] == "0 passed, 1 failed"
    assert code == 1


def test_a_malformed_row_does_not_stop_the_next(check):
    _, lines = check("nonsense", "energy_kj,carb=10,170,kJ,0.5,x,no")
    assert lines[-1] == "1 passed, 1 failed"


@pytest.mark.parametrize(
    "row, key",
    [
        ("rho_ethanol_water,w=0.3;T=60,900,kg/m3,50,x,no", "volume-temperature"),
        ("rho_water,T=120,943,kg/m3,50,x,no", "water-temperature"),
        ("rho_sucrose,w=0.5;T=90,1190,kg/m3,50,x,no", "sucrose-temperature"),
        ("rho_sucrose,w=0.9,1480,kg/m3,50,x,no", "sugar-fraction"),
        ("ri_sucrose,w=0.1;T=30,1.347,1,1,x,no", "refraction-temperature"),
        ("rho_mixture,abv=40;gl_sucrose=245,1038,kg/m3,6,x,no", "strong-sweet"),
        ("cp,w_ethanol=0.8;T=20,3,J/gK,2,x,no", "heat-ethanol"),
        ("cp,w_ethanol=0.2;T=60,4,J/gK,2,x,no", "heat-temperature"),
        ("dilution,abv=45;how=stirred,0.45,1,1,x,no", "dilution-strength"),
        ("ph,abv=40;gl_citric=5,3,pH,2,x,no", "ph-strength"),
        ("ph,c_citric=0.1;c_nacl=1,2,pH,1,x,no", "ph-ionic-strength"),
        ("ph,c_citric=0.01;cation=0.014,4.6,pH,0.5,x,no", "ph-near-4.6"),
        ("aw,w_sucrose=0.67,0.85,1,0.1,x,no", "water-activity-near-0.85"),
        ("aw_sucrose_molal,m=20,0.45,1,0.2,x,no", "water-activity-low"),
        ("freezing_point,w_sucrose=0.6,-10,C,5,x,no", "freezing-sucrose"),
        ("freezing_point,abv=25;gl_sucrose=300,-21,C,2,x,no", "freezing-strong-sweet"),
        ("ethanol_retained,way=simmered;minutes=200,5,%,0.1,x,no", "cooking-time"),
        ("chill_melt,abv=45;t0=20;ice=200,70,g/100ml,20,x,no", "chill-strong"),
        ("chill_melt,abv=20;t0=60;ice=200,80,g/100ml,40,x,no", "chill-temperature"),
        ("chill_melt,abv=2;t0=4;ice=300;t_ice=-30,0,g/100ml,1,x,no", "chill-would-freeze"),
        ("co2_bunsen,T=35,0.59,1,0.1,x,no", "carbonation-temperature"),
        ("co2_pressure,T=20;gl=14,900,kPa,200,x,no", "carbonation-pressure"),
        ("co2_kh,T=10;abv=30,2,g/L/bar,1,x,no", "carbonation-strength"),
    ],
)
def test_a_value_outside_its_range_says_so(check, row, key):
    _, lines = check(row)
    words = next(entry.words for entry in RANGES if entry.key == key)
    assert lines[0].startswith("passed")
    assert f"[{words}]" in lines[0]


def test_a_missing_file_is_named_and_fails(tmp_path):
    code, lines = output(tmp_path / "nowhere.csv")
    assert "nowhere.csv  the file cannot be read" in lines[0]
    assert code == 1


def test_a_table_of_constants_is_no_check_file(check):
    code, lines = check("a,b,1,1,kg/m3,x,no", header="group,key,index,value,unit,source,from_memory\n")
    assert "this is no check file: it has no column 'quantity'" in lines[0]
    assert code == 1


def test_an_empty_file_is_no_check_file(check):
    assert "this is no check file" in check(header="")[1][0]


def test_a_file_that_is_not_text_is_named_and_fails(tmp_path):
    path = tmp_path / "picture.csv"
    path.write_bytes(b"\x89PNG\xff\xfe\x00\x80")
    code, lines = output(path)
    assert "the file is not text in UTF-8" in lines[0]
    assert code == 1


def test_an_endless_cell_is_named_and_fails(tmp_path):
    path = tmp_path / "long.csv"
    path.write_text(HEADER + "x" * 200_000, encoding="utf-8")
    code, lines = output(path)
    assert "the file is not CSV" in lines[0]
    assert code == 1


def test_a_file_from_a_spreadsheet_is_read(tmp_path):
    # Byte order mark, line ends of Windows, spaces around the cells and inputs, a semicolon at the end.
    path = tmp_path / "sheet.csv"
    text = HEADER + " energy_kj , carb = 10 ; acid = 1 ; , 183 , kJ , 0.5 , x , no \n"
    path.write_bytes(b"\xef\xbb\xbf" + text.replace("\n", "\r\n").encode())
    assert output(path)[0] == 0


def test_columns_may_stand_in_any_order(check):
    header = "source,unit,tolerance,value,inputs,quantity\n"
    assert check("x,kJ,0.5,170,carb=10,energy_kj", header=header)[0] == 0
