"""What each command looks like when it is used: shown under its help."""

from __future__ import annotations

EXAMPLES: dict[str, tuple[tuple[str, str], ...]] = {
    "new": (
        ("cage3d new petticoat.yaml", "asks for each measure"),
        (
            'cage3d new ball.yaml --silhouette dome --waist 26 --waist-height "41 1/2" --hip 39 --hip-drop 8'
            ' --hem 110 --clearance "8 to 10" --hoops 7 --tapes 10 --skirt "2.4 kg"',
            "asks for nothing",
        ),
        ("cage3d new jupe.yaml --units cm --waist 66 --waist-height 105", "in centimetres; asks for the rest"),
    ),
    "check": (
        ("cage3d check petticoat.yaml", "how it hangs, and every warning"),
        ("cage3d check petticoat.yaml --carry 3", "and the lightest steel for three times the skirt"),
        ("cage3d check petticoat.yaml --steel", "and which steel is stiff enough to wear"),
        ("cage3d check petticoat.yaml --json > petticoat.json", "the figures for another program"),
    ),
    "fitting": (
        ("cage3d fitting petticoat.yaml", "opens the page; Ctrl-C ends it"),
        ("cage3d fitting petticoat.yaml -o fitting-2", "what is made from the page goes into the folder fitting-2"),
        ("cage3d fitting petticoat.yaml --no-browser", "prints the address of the page and opens nothing"),
    ),
    "vary": (
        ("cage3d vary petticoat.yaml 'hoop 4 length' 66..78 by 2", "the table alone, on the screen"),
        ("cage3d vary petticoat.yaml 'tie 1 length' 20..26 by 1/2 -o tie", "with curves, contact sheet and page"),
        ("cage3d vary petticoat.yaml 'drop 3 at the back' -1/2..+1/2 by 1/4", "changes of what is written"),
        ("cage3d vary petticoat.yaml 'steel thickness' 0.4..0.6 mm by 0.1 'skirt weight' 0.5..2 kg by 0.5", "a grid"),
    ),
    "aim": (
        ("cage3d aim petticoat.yaml -o wider.yaml", "lengths and drops for what petticoat.yaml wants"),
        ("cage3d aim petticoat.yaml -o wider.yaml --wanted fitting.csv", "for what a table wants"),
        ("cage3d aim petticoat.yaml -o wider.yaml --keep 'hoop 1' --free tie", "hoop 1 stays, ties may change"),
    ),
    "true": (
        ("cage3d true petticoat.yaml petticoat/tables/fitting-record.csv", "what is off, and what to mend"),
        ("cage3d true petticoat.yaml fitting.csv --keep 'hoop 1'", "the marks of hoop 1 stay where they are"),
        ("cage3d true petticoat.yaml fitting.csv --level '1/8 in'", "until the hem is level to 1/8 in"),
    ),
    "grade": (
        ("cage3d grade petticoat.yaml wearers.csv", "a folder for each wearer and one order, into petticoat-order"),
        ("cage3d grade petticoat.yaml wearers.csv -o chorus --share", "her height shared over all drops"),
        ('cage3d grade petticoat.yaml --waists "24..36 by 2" --designs-only', "a range of sizes, designs alone"),
    ),
    "make": (
        ("cage3d make petticoat.yaml", "everything, into the folder petticoat"),
        ("cage3d make petticoat.yaml -o fitting-2", "into another folder"),
        ("cage3d make petticoat.yaml --parts no-skirt,no-form", "the cage alone in model and page"),
        ("cage3d make petticoat.yaml --wearer", "on her, with torso and legs, and not on her form"),
    ),
    "show": (
        ("cage3d show petticoat.yaml", "a window, or a picture where there is no screen"),
        ("cage3d show petticoat.yaml -o look", "the picture into the folder look"),
        ("cage3d show petticoat.yaml wider.yaml --page", "two designs side by side on one page"),
    ),
    "maquette": (
        ("cage3d maquette petticoat.yaml", "one sixth, for a filament printer"),
        ("cage3d maquette petticoat.yaml --scale 1:8 --process resin", "smaller, for a resin printer"),
        ("cage3d maquette petticoat.yaml --bed 180x180x180 --split", "cut to fit a small printer"),
        ("cage3d maquette petticoat.yaml --flat", "flat pieces that slot together"),
    ),
    "sheets": (
        ("cage3d sheets petticoat.yaml", "on A4"),
        ("cage3d sheets petticoat.yaml --paper letter -o bench", "on US letter, into the folder bench"),
        ("cage3d sheets --measuring", "the sheet to measure a wearer by, before there is a design"),
    ),
}  # fmt: skip


def examples_of(command: str) -> str | None:
    """The examples of a command as they stand under its help; None where there are none."""
    if command not in EXAMPLES:
        return None
    # The library keeps the lines of a paragraph that begins with \b as they are.
    return "Examples:\n\n\b\n" + "\n".join(f"  {typed}\n      {does}" for typed, does in EXAMPLES[command])
