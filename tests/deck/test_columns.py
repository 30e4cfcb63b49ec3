"""Headers in plain words say what columns mean, in any order and usual spelling."""

import pytest

from housemap.deck.columns import (
    BY_HEADER,
    HEADERS,
    MEANINGS,
    gives_colour,
    meanings_of,
    plain,
    wavelength_nm,
)


@pytest.mark.parametrize(
    ("headers", "meanings"),
    [
        ("Name,Code,Hex,LRV", "name,code,hex,LRV"),
        ("PAINT NAME,Colour No.,Hex Code,Light Reflectance Value (%)", "name,code,hex,LRV"),
        ("color_name,color-code,#hex", "name,code,hex"),
        ("L,a,b", "L*,a*,b*"),
        ("L*,a*,b*,C*,h°", "L*,a*,b*,C*,h"),
        ("CIE L*,CIE a*,CIE b*", "L*,a*,b*"),
        ("Lab_L,Lab_A,Lab_B", "L*,a*,b*"),
        ("L* (D65),a* (D65),b* (D65)", "L*,a*,b*"),
        ("R,G,B", "red,green,blue"),
        ("R,G,B,L,a,b", "red,green,blue,L*,a*,b*"),
        ("L,a,b,R,G,B", "L*,a*,b*,red,green,blue"),
        ("X,Y,Z,LRV", "X,Y,Z,LRV"),
        ("x,y,Y", "x,y,Y"),
        ("X,Y,Z,x,y", "X,Y,Z,,"),
        ("L,C,h", "L*,C*,h"),
        ("Hue,Value,Chroma", "hue,value,chroma"),
        ("H,V,C", "hue,value,chroma"),
        ("Munsell,Y", "notation,LRV"),
        ("Coverage (m²/l),Tin sizes,Price per litre", "coverage,tins,price"),
        ("Spreading rate,Pack sizes (l),Price per 2.5 l", "coverage,tins,price"),
        ("Price in EUR,Remarks,Collection", "price,notes,deck"),
        ("Name,Illuminant,Observer", "name,illuminant,observer"),
        ("name,unheard of", "name,"),
    ],
)
def test_headers_mean_what_a_reader_would_take_them_for(headers: str, meanings: str) -> None:
    assert meanings_of(headers.split(",")) == tuple(meanings.split(","))


@pytest.mark.parametrize(
    "header",
    ["400", "400nm", "400 nm", "R_400", "R400", "nm400", "NM_400", "SPECTRAL_NM_400", "λ400",
     "Reflectance 400 nm", "SPEC_400", "SPECTRAL_DEC400", "400 (%)", "400.0"],
)  # fmt: skip
def test_a_spectral_column_is_known_by_its_wavelength(header: str) -> None:
    assert wavelength_nm(header) == 400
    assert meanings_of([header]) == ("400 nm",)


@pytest.mark.parametrize("header", ["2.5", "50", "1200", "R", "item 400 x", "4000", "D_RED"])
def test_other_numbers_are_no_wavelength(header: str) -> None:
    assert wavelength_nm(header) is None


def test_each_meaning_is_given_once() -> None:
    assert meanings_of(["Name", "Colour name", "Hex", "hex code"]) == ("name", "", "hex", "")


def test_a_part_of_a_colour_means_nothing_without_the_rest() -> None:
    assert meanings_of(["Name", "a", "b", "L", "X"]) == ("name", "a*", "b*", "L*", "")
    assert meanings_of(["Name", "A", "B"]) == ("name", "", "")


def test_every_synonym_is_spelled_as_headers_are_read_and_stands_for_one_meaning() -> None:
    for key, words in HEADERS.items():
        assert key in MEANINGS
        for word in words:
            assert plain(word) == word
            assert BY_HEADER[word] == key


@pytest.mark.parametrize("meanings", [["hex"], ["x", "y", "Y"], ["400 nm"], ["notation", "name"]])
def test_some_meanings_give_a_colour(meanings: list[str]) -> None:
    assert gives_colour(meanings)


@pytest.mark.parametrize("meanings", [[], ["name", "LRV"], ["L*", "a*"], ["red", "a*", "b*"]])
def test_others_do_not(meanings: list[str]) -> None:
    assert not gives_colour(meanings)
