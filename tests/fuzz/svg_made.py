"""SVG drawings as a stranger might hand them in, with hostile numbers, links and entities."""

from __future__ import annotations

from random import Random
from typing import Final
from xml.sax.saxutils import quoteattr

from tests.fuzz import hostile

WORDS: Final = tuple(
    word.encode()
    for word in (
        "<use href='#a'/>", "<use xlink:href='#a' x='1'/>", "<g id='a'>", "</g>", "<symbol id='b'>",
        "</symbol>",
        "<path d='M0 0L9 0 9 9z'/>", "<path d='M0,0 A5 5 0 1 1 0 1e-9z'/>", "<circle r='5'/>",
        "<ellipse rx='1e9' ry='1'/>",
        "<rect width='9' height='9' rx='5'/>", "<polygon points='0,0 1,1'/>", "<line x2='9'/>", "<svg>",
        "</svg>",
        " transform='matrix(1 2 3)'", " transform='rotate(nan)'", " transform='scale(1e200)'", " d='M'",
        " viewBox='0 0 0 0'", " viewBox='a b c d'", " width='1e400mm'", " width='100%'",
        " style='display:none'",
        " xmlns='x'", " xml:base='file:///etc/'", "<!--", "-->", "<![CDATA[", "]]>", "<?xml version='1.1'?>",
        "<!DOCTYPE svg [<!ENTITY e 'x'>]>", "&e;", "&#0;", "&#x110000;", "<style>path{d:none}</style>", "<a>",
        "<switch>", "<image href='file:///etc/passwd'/>", "<script>x</script>", "<clipPath/>", "S", "Q",
        "T", "H", "V",
        "c1 1 2 2 3 3", "a1 0 0 0 0 1 1", "zzz", "M0 0" * 9,
    )
)  # fmt: skip
_COMMANDS: Final = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}
_DOCTYPES: Final = (
    '<!DOCTYPE svg [<!ENTITY a "x"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;"><!ENTITY c "&b;&b;&b;&b;">]>',
    '<!DOCTYPE svg [<!ENTITY a SYSTEM "file:///etc/passwd">]>',
    '<!DOCTYPE svg SYSTEM "http://127.0.0.1:9/x.dtd">',
    '<!DOCTYPE svg [<!ENTITY % p SYSTEM "file:///etc/passwd"> %p;]>',
    '<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">',
    '<!DOCTYPE svg [<!ATTLIST path d CDATA "M0 0L9 0 9 9z">]>',
    '<?xml-stylesheet href="file:///etc/passwd"?>',
)


def made(dice: Random) -> bytes:
    """Return one drawing."""
    return _Drawing(dice).whole()


class _Drawing:
    def __init__(self, dice: Random) -> None:
        self._dice = dice
        self._daring = dice.choice((0.0, 0.0, 0.01, 0.1, 0.4))
        self._ids = 0

    def whole(self) -> bytes:
        dice = self._dice
        body = "".join(self._element(0) for _ in range(dice.choice((1, 2, 5, 20))))
        if dice.random() < 0.6:
            body = f'<path d="M-60 -60H160V160H-60Z"/>{body}'
        top = dice.choice(_DOCTYPES) if dice.random() < 0.06 else ""
        size = f' width="{self._length()}" height="{self._length()}"' if dice.random() < 0.7 else ""
        box = f' viewBox="{" ".join(self._n() for _ in range(4))}"' if dice.random() < 0.5 else ""
        text = (
            f'<?xml version="1.0"?>{top}<svg xmlns="http://www.w3.org/2000/svg"'
            f' xmlns:xlink="http://www.w3.org/1999/xlink"{size}{box}>{body}</svg>'
        )
        coding = dice.choice(("utf-16", "latin-1", "utf-8-sig")) if dice.random() < 0.03 else "utf-8"
        return text.encode(coding, errors="replace")

    def _n(self) -> str:
        dice = self._dice
        if dice.random() < self._daring:
            return dice.choice((str(hostile.figure(dice)), hostile.text(dice)[:40]))[:80]
        return f"{dice.uniform(-50.0, 150.0):.3g}"

    def _length(self) -> str:
        return self._n() + self._dice.choice(("mm", "", "in", "px", "pt", "cm", "%", "em"))

    def _element(self, depth: int) -> str:
        dice = self._dice
        drawn = dice.random()
        if drawn < 0.3 and depth < 70:
            deeper = dice.choice((1, 1, 1, 40)) if dice.random() < self._daring else 1
            tag = dice.choice(("g", "g", "defs", "symbol", "a", "svg", "clipPath"))
            inner = self._element(depth + deeper) + (self._element(depth + 1) if dice.random() < 0.3 else "")
            return f"<{tag}{self._common()}>" * deeper + inner + f"</{tag}>" * deeper
        if drawn < 0.4:
            link = f"#e{dice.randrange(self._ids + 2)}"
            if dice.random() < self._daring:
                link = dice.choice(
                    ("file:///etc/passwd#a", "http://127.0.0.1:9/#a", "", "#", "data:,x", "../x.svg")
                )
            return f'<use {dice.choice(("href", "xlink:href"))}="{link}" x="{self._a()}"{self._common()}/>'
        return self._shape()

    def _shape(self) -> str:
        dice = self._dice
        tag = dice.choice(
            ("path", "path", "path", "rect", "circle", "ellipse", "line", "polygon", "polyline", "text")
        )
        if tag == "path":
            return f"<path d={quoteattr(self._path())}{self._common()}/>"
        if tag in ("polygon", "polyline"):
            places = " ".join(f"{self._n()},{self._n()}" for _ in range(dice.choice((0, 1, 3, 4, 40))))
            return f"<{tag} points={quoteattr(places)}{self._common()}/>"
        keys = {
            "rect": ("x", "y", "width", "height", "rx", "ry"), "circle": ("cx", "cy", "r"),
            "text": ("x", "y"),
            "ellipse": ("cx", "cy", "rx", "ry"), "line": ("x1", "y1", "x2", "y2"),
        }[tag]  # fmt: skip
        given = "".join(f' {key}="{self._a()}"' for key in keys if dice.random() < 0.9)
        return f"<{tag}{given}{self._common()}/>"

    def _a(self) -> str:
        return quoteattr(self._n())[1:-1]

    def _path(self) -> str:
        dice = self._dice
        parts = [f"M{self._n()} {self._n()}"]
        for _ in range(dice.choice((1, 3, 4, 12, 60))):
            command = dice.choice(list(_COMMANDS))
            if command == "A" and dice.random() > self._daring:
                parts.append(
                    f"A{self._n()} {self._n()} 0 {dice.choice(('0 0', '0 1', '1 1'))} {self._n()} {self._n()}"
                )
                continue
            given = " ".join(self._n() for _ in range(_COMMANDS[command]))
            parts.append((command.lower() if dice.random() < 0.5 else command) + given)
        return " ".join(parts) + dice.choice(("", "z"))

    def _common(self) -> str:
        dice = self._dice
        found = ""
        if dice.random() < 0.3:
            found += f' id="e{self._ids}"'
            self._ids += 1
        if dice.random() < 0.2:
            kind, count = dice.choice(
                (("translate", 2), ("rotate", 1), ("scale", 2), ("matrix", 6), ("skewX", 1))
            )
            figures = ",".join(self._n() for _ in range(count))
            found += f" transform={quoteattr(f'{kind}({figures})')}"
        if dice.random() < self._daring:
            style = dice.choice(("display:none", "visibility:hidden", "x" * 300, self._n()))
            found += f" style={quoteattr(style)}"
        return found
