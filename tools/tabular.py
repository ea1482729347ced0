"""Gives a font digits that are all as wide, for figures that stand below each other: the feature
`tnum`, which Libre Franklin lacks. Its own digits stay as they are, for text.

    pip install fonttools brotli
    python3 tools/tabular.py LibreFranklin.woff2 public/fonts/libre-franklin.woff2

Each digit keeps its outline and stands in the middle of the width that the ten have on the average,
in each weight; the narrow one stands out of that, and is left away from it.
"""

import sys
from copy import deepcopy

from fontTools.otlLib.builder import buildSingleSubstSubtable
from fontTools.ttLib import TTFont
from fontTools.ttLib.tables import otTables
from fontTools.varLib.hvar import add_HVAR
from fontTools.varLib.iup import iup_delta

DIGITS = "0123456789"
WIDE = [digit for digit in DIGITS if digit != "1"]


def average(numbers):
    return sum(numbers) / len(numbers)


def regions(variations):
    """The deltas of a glyph by the region of weights that they are of."""
    return {tuple(sorted(each.axes.items())): each for each in variations}


def main(source, target):
    font = TTFont(source)
    names = {digit: font.getBestCmap()[ord(digit)] for digit in DIGITS}
    glyf, gvar, metrics = font["glyf"], font["gvar"], font["hmtx"].metrics
    order = font.getGlyphOrder()
    widths = {digit: metrics[name][0] for digit, name in names.items()}
    wide = round(average([widths[digit] for digit in WIDE]))
    all_deltas = {digit: regions(gvar.variations[name]) for digit, name in names.items()}
    axes = sorted({axes for deltas in all_deltas.values() for axes in deltas})

    def wider(digit, at):
        """How much wider a digit becomes in a region: the phantom point at its right says so."""
        one = all_deltas[digit].get(at)
        if one is None:
            return 0
        left, right = one.coordinates[-4] or (0, 0), one.coordinates[-3] or (0, 0)
        return right[0] - left[0]

    for digit, name in names.items():
        new = f"{name}.tnum"
        glyph = deepcopy(glyf[name])
        aside = round((wide - widths[digit]) / 2)
        glyph.coordinates.translate((aside, 0))
        glyph.recalcBounds(glyf)
        glyf.glyphs[new] = glyph
        metrics[new] = (wide, glyph.xMin)
        points = list(glyf[name].coordinates)
        ends = glyf[name].endPtsOfContours
        inside = len(points)
        # The four phantom points are contours of their own.
        full = points + [(0, 0), (widths[digit], 0), (0, 0), (0, 0)]
        ends = list(ends) + [inside, inside + 1, inside + 2, inside + 3]
        variations = []
        for at in axes:
            all_wider = average([wider(other, at) for other in WIDE])
            moved = (all_wider - wider(digit, at)) / 2
            one = all_deltas[digit].get(at)
            given = one.coordinates if one else [(0, 0)] * len(full)
            deltas = iup_delta(given, full, ends) if None in given else given
            left = (given[-4] or (0, 0))[0]
            shifted = [(round(x - left + moved), round(y)) for x, y in deltas[:inside]]
            phantoms = [(0, 0), (round(all_wider), 0), (0, 0), (0, 0)]
            new_one = deepcopy(one or next(d[at] for d in all_deltas.values() if at in d))
            new_one.coordinates = shifted + phantoms
            variations.append(new_one)
        gvar.variations[new] = variations
        order.append(new)
    font.setGlyphOrder(order)
    font["post"].formatType = 3.0
    add_feature(font, {name: f"{name}.tnum" for name in names.values()})
    del font["HVAR"]
    add_HVAR(font)
    font.flavor = "woff2"
    font.save(target)


def add_feature(font, digits):
    table = font["GSUB"].table
    lookup = otTables.Lookup()
    lookup.LookupType, lookup.LookupFlag = 1, 0
    lookup.SubTable = [buildSingleSubstSubtable(digits)]
    lookup.SubTableCount = 1
    table.LookupList.Lookup.append(lookup)
    table.LookupList.LookupCount = len(table.LookupList.Lookup)
    feature = otTables.FeatureRecord()
    feature.FeatureTag, feature.Feature = "tnum", otTables.Feature()
    feature.Feature.FeatureParams = None
    feature.Feature.LookupListIndex = [table.LookupList.LookupCount - 1]
    feature.Feature.LookupCount = 1
    # Features stand by their tags: it goes to the end, and each language hears of it.
    records = table.FeatureList.FeatureRecord
    records.append(feature)
    table.FeatureList.FeatureCount = len(records)
    for script in table.ScriptList.ScriptRecord:
        systems = [script.Script.DefaultLangSys]
        systems += [each.LangSys for each in script.Script.LangSysRecord]
        for system in filter(None, systems):
            system.FeatureIndex.append(len(records) - 1)
            system.FeatureCount = len(system.FeatureIndex)


main(*sys.argv[1:])
