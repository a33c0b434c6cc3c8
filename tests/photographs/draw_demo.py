"""The pictures of the demo house, drawn: `python -m tests.photographs.draw_demo` writes them into `photos/`.

A house shows photographs of its own plants; the demo house is made up and shows line drawings after these descriptions
(title, issuer, year; of each an excerpt was read, where not said otherwise). Of the same works `site_data/photos.yml` tells:

- nasturtium: Tropaeolum majus, Flora of New Zealand 4, Manaaki Whenua Landcare Research, 1988;
  eight stamens, spur narrow and tapered: Flora of Victoria, Royal Botanic Gardens Victoria, 1999
- calendula: Calendula and Calendula officinalis, Flora of North America 19, 2006
- borage: Manual of Vascular Plants, New York Botanical Garden, 1991; cone of anthers: Borago officinalis,
  Flora of New Zealand 4, 1988
- dianthus: Dianthus chinensis, Flora of China, eFloras, 2001
- pak choi: Horticultural Flora of South-eastern Australia 2, Royal Botanic Gardens Victoria, 1997
- mizuna: Consensus document on Brassica crops II.3, OECD, 2012; Brassica rapa, Flora of China 8, eFloras, 2001
- basil: Ocimum basilicum, Flora of China, eFloras, 1994
- flower of pak choi and mizuna (four petals in a cross, six stamens), whorls of basil as drawn: from memory
- where a cut goes: SOP-18 (close under the bloom; above the splash line); over a pair of shoots of basil: common practice
- findings: the lines "What is seen" and "Where to look" of `macros/published/pages/findings.yml`, each with its source there;
  limbs, feelers and wings of the insects, and the oval body of the mite: from memory
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from pathlib import Path

from PIL import Image

from macros.photographs.photographs import PARTS_OF_A_VARIETY
from tests.photographs.draw_diseases import DISEASES
from tests.photographs.draw_flower_crops import FLOWER_CROPS
from tests.photographs.draw_leaf_crops import LEAF_CROPS
from tests.photographs.draw_pests import PESTS
from tests.photographs.pen import Pen

FOLDER = Path(__file__).parents[2] / "photos"


def drawings() -> Iterator[tuple[str, Image.Image]]:
    """Every picture, by its name below `photos/` without the ending."""
    plants = {
        f"varieties/{name}/{part}": draw
        for name, three in {**FLOWER_CROPS, **LEAF_CROPS}.items()
        for part, draw in zip(PARTS_OF_A_VARIETY, three, strict=True)
    }
    findings = {f"findings/{name}": draw for name, draw in {**PESTS, **DISEASES}.items()}
    for name, draw in {**plants, **findings}.items():
        pen = Pen()
        draw(pen)
        yield name, pen.picture()


def main() -> None:
    """Draw them all; a file that shows the same is left as it is."""
    for name, image in drawings():
        path = FOLDER / f"{name}.png"
        if path.is_file() and Image.open(path).convert("L").tobytes() == image.tobytes():
            continue
        path.parent.mkdir(parents=True, exist_ok=True)
        out = io.BytesIO()
        few = image.convert("P", palette=Image.Palette.ADAPTIVE, colors=16)
        few.save(out, "PNG", optimize=True, bits=4)
        path.write_bytes(out.getvalue())


if __name__ == "__main__":
    main()
