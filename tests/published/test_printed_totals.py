"""Tables whose totals are printed with them, read through a mapping that the seller tells: the sums are the
same.

The counts are those of R's data sets of these names (package ``datasets``), whose help pages print the
totals: 2,201 people in ``Titanic`` (Dawson, Journal of Statistics Education 3, 1995), 4,526 applicants of
whom 2,691 were men in ``UCBAdmissions`` (Bickel, Hammel and O'Connell, Science 187, 1975), 592 students in
``HairEyeColor`` (Snee, American Statistician 28, 1974). They stand in for amounts.
"""

from pathlib import Path

import pytest

from hundredfold.workshop.earning.adding import ReportHints, add_report
from hundredfold.workshop.shop.desk import desk
from hundredfold.workshop.shop.newshop import new_shop

TITANIC = """
Class Sex Age Survived Freq;
1st Male Child No 0; 2nd Male Child No 0; 3rd Male Child No 35; Crew Male Child No 0;
1st Female Child No 0; 2nd Female Child No 0; 3rd Female Child No 17; Crew Female Child No 0;
1st Male Adult No 118; 2nd Male Adult No 154; 3rd Male Adult No 387; Crew Male Adult No 670;
1st Female Adult No 4; 2nd Female Adult No 13; 3rd Female Adult No 89; Crew Female Adult No 3;
1st Male Child Yes 5; 2nd Male Child Yes 11; 3rd Male Child Yes 13; Crew Male Child Yes 0;
1st Female Child Yes 1; 2nd Female Child Yes 13; 3rd Female Child Yes 14; Crew Female Child Yes 0;
1st Male Adult Yes 57; 2nd Male Adult Yes 14; 3rd Male Adult Yes 75; Crew Male Adult Yes 192;
1st Female Adult Yes 140; 2nd Female Adult Yes 80; 3rd Female Adult Yes 76; Crew Female Adult Yes 20
"""
UCBADMISSIONS = """
Admit Gender Dept Freq;
Admitted Male A 512; Rejected Male A 313; Admitted Female A 89; Rejected Female A 19;
Admitted Male B 353; Rejected Male B 207; Admitted Female B 17; Rejected Female B 8;
Admitted Male C 120; Rejected Male C 205; Admitted Female C 202; Rejected Female C 391;
Admitted Male D 138; Rejected Male D 279; Admitted Female D 131; Rejected Female D 244;
Admitted Male E 53; Rejected Male E 138; Admitted Female E 94; Rejected Female E 299;
Admitted Male F 22; Rejected Male F 351; Admitted Female F 24; Rejected Female F 317
"""
HAIREYECOLOR = """
Hair Eye Sex Freq;
Black Brown Male 32; Brown Brown Male 53; Red Brown Male 10; Blond Brown Male 3; Black Blue Male 11;
Brown Blue Male 50; Red Blue Male 10; Blond Blue Male 30; Black Hazel Male 10; Brown Hazel Male 25;
Red Hazel Male 7; Blond Hazel Male 5; Black Green Male 3; Brown Green Male 15; Red Green Male 7;
Blond Green Male 8; Black Brown Female 36; Brown Brown Female 66; Red Brown Female 16;
Blond Brown Female 4; Black Blue Female 9; Brown Blue Female 34; Red Blue Female 7;
Blond Blue Female 64; Black Hazel Female 5; Brown Hazel Female 29; Red Hazel Female 7;
Blond Hazel Female 5; Black Green Female 2; Brown Green Female 14; Red Green Female 7;
Blond Green Female 8
"""


@pytest.mark.parametrize(
    ("table", "by", "whole", "parts"),
    [
        (TITANIC, "Class", 2201, {"1st": 325, "2nd": 285, "3rd": 706, "Crew": 885}),
        (UCBADMISSIONS, "Gender", 4526, {"Male": 2691, "Female": 1835}),
        (HAIREYECOLOR, "Eye", 592, {"Brown": 220, "Blue": 215, "Hazel": 93, "Green": 64}),
    ],
    ids=["Titanic", "UCBAdmissions", "HairEyeColor"],
)
def test_sums_are_the_printed_ones(
    tmp_path: Path, table: str, by: str, whole: int, parts: dict[str, int]
) -> None:
    root, path = tmp_path / "shop", tmp_path / "table.csv"
    new_shop(root, sample=True)
    rows = [row.split() for row in table.replace("\n", " ").split(";")]
    path.write_text("\n".join(",".join(row) for row in rows if row), encoding="utf-8")
    with desk(root, "sales add") as opened:
        hints = ReportHints({"paid": "Freq", "sku": by}, day="2027-01-31")
        assert add_report(opened, path, "northfold", hints).unusable == 0
        sums = opened.store.sales.sums()
    assert {one.sku: one.paid for one in sums} == {name: count * 10_000 for name, count in parts.items()}
    assert sum(one.paid or 0 for one in sums) == whole * 10_000
