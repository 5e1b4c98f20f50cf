"""Every action of the window, as a table: menus, keys and the help sheet's list of keys are made from it."""

from __future__ import annotations

from typing import Final

from app.window.action import Action
from app.window.flat.tool_table import BY_NAME


def _tool(name: str, menu: str, *, line_above: bool = False) -> Action:
    """Return the row that takes a drawing tool in hand; the flat pattern itself listens to the tool's key."""
    tool = BY_NAME[name]
    return Action(
        f"tool.{name}",
        menu,
        tool.words,
        "flat.set_tool",
        key=tool.key,
        argument=name,
        line_above=line_above,
        key_of_view=True,
    )


ACTIONS: Final[tuple[Action, ...]] = (
    Action("new.blank", "File", "New, an empty sheet", "files.begin_blank", key="Ctrl+N"),
    Action("new.sample", "File", "New from a sample", "starts.from_sample", choices="starts.sample_choices"),
    Action("file.open", "File", "Open…", "files.open", key="Ctrl+O", line_above=True),
    Action("file.recent", "File", "Open a recent one", "files.open_recent", choices="files.recent_choices"),
    Action("file.again", "File", "Open again from disk", "files.open_again"),
    Action("file.save", "File", "Save", "files.save", key="Ctrl+S", line_above=True),
    Action("file.save_as", "File", "Save under another name…", "files.save_as", key="Ctrl+Shift+S"),
    Action(
        "file.paper",
        "File",
        "Paper for the workshop",
        "paper.write_sheet",
        choices="paper.sheet_choices",
        line_above=True,
    ),
    Action("file.class", "File", "For the class", "for_class.write", choices="for_class.choices"),
    Action("file.report", "File", "Report, as PDF or HTML…", "paper.write_report"),
    Action("file.cut", "File", "Plate for the cutter", "paper.write_cut", choices="paper.cut_choices"),
    Action("file.picture", "File", "Picture of this sheet…", "window.save_picture"),
    Action("file.leave", "File", "Leave", "window.close", key="Ctrl+Q", line_above=True),
    _tool("select", "Draw"),
    _tool("outline", "Draw", line_above=True),
    _tool("corner", "Draw"),
    _tool("round", "Draw"),
    _tool("chamfer", "Draw"),
    _tool("arc", "Draw"),
    _tool("hole", "Draw", line_above=True),
    _tool("slot", "Draw"),
    _tool("rectangle", "Draw"),
    _tool("cut-out", "Draw"),
    _tool("repeat", "Draw"),
    _tool("measure", "Draw", line_above=True),
    Action(
        "new.stock",
        "Draw",
        "Stock shape, fitted to casing and bar",
        "starts.from_stock",
        choices="starts.stock_choices",
        line_above=True,
    ),
    Action("draw.example", "Draw", "Example casing, to try things with", "starts.put_example_casing"),
    Action("draw.outline_file", "Draw", "Outline from a drawing…", "starts.take_outline", line_above=True),
    Action("draw.photograph", "Draw", "Photograph under the sheet…", "starts.lay_photograph"),
    Action("draw.no_photograph", "Draw", "Take the photograph away", "starts.take_photograph_away"),
    Action("change.copy", "Change", "Copy", "flat.copy_selected", key="Ctrl+C", key_of_view=True),
    Action("change.paste", "Change", "Paste", "flat.paste_copied", key="Ctrl+V", key_of_view=True),
    Action("change.remove", "Change", "Remove", "flat.remove_selected", key="Delete", key_of_view=True),
    Action(
        "change.measures",
        "Change",
        "Type its measures",
        "flat.type_measures",
        key="Return",
        line_above=True,
        key_of_view=True,
    ),
    Action(
        "change.mirror", "Change", "Mirror left to right", "flat.mirror_across", key="D", key_of_view=True
    ),
    Action(
        "change.mirror_up",
        "Change",
        "Mirror below to above",
        "flat.mirror_upward",
        key="V",
        key_of_view=True,
    ),
    Action(
        "change.round",
        "Change",
        "Repeat an opening round the centre…",
        "flat.repeat_round_centre",
        key="O",
        key_of_view=True,
    ),
    Action(
        "change.inside",
        "Change",
        "Round all sharp inside corners",
        "flat.round_all_inside",
        key="I",
        key_of_view=True,
    ),
    Action(
        "change.join",
        "Change",
        "Join with another plate",
        "flat.join",
        key="J",
        line_above=True,
        key_of_view=True,
    ),
    Action("change.material", "Change", "Material of its own for this plate", "edits.own_material"),
    _tool("fold", "Fold"),
    Action(
        "fold.over",
        "Fold",
        "Fold the other way",
        "flat.turn_selected_fold_over",
        key="Y",
        key_of_view=True,
    ),
    Action("fold.strip", "Fold", "K from a bent test strip…", "starts.bend_strip"),
    Action(
        "fold.other_hand", "Fold", "Other hand of drive, whole bracket", "edits.other_hand", line_above=True
    ),
    _tool("bolt", "Bolt"),
    Action(
        "bolt.loosen", "Bolt", "Try: loosen the selected bolt", "trial.loosen", key="Ctrl+L", line_above=True
    ),
    Action("bolt.take_out", "Bolt", "Try: take the selected bolt out", "trial.take_out", key="Ctrl+K"),
    Action("bolt.keep", "Bolt", "Keep what is tried", "trial.keep"),
    Action("bolt.put_back", "Bolt", "Put everything back", "trial.put_back"),
    Action(
        "bolt.weld",
        "Bolt",
        "Weld the selected edge to what it stands on",
        "flat.weld_selected",
        key="Shift+W",
        key_of_view=True,
        line_above=True,
    ),
    Action("bolt.stand", "Bolt", "Stand the plate by its holes…", "starts.stand_plate", line_above=True),
    Action("bolt.casing", "Bolt", "Casing and bosses, by callipers…", "starts.measure_casing"),
    Action("bolt.bar", "Bolt", "Dash bar…", "starts.put_dash_bar"),
    Action("bolt.pull", "Bolt", "Dash bar's ends, by a pull…", "starts.measure_bar_ends"),
    Action(
        "bolt.around",
        "Bolt",
        "Around the bracket: joints, cable, collapse, room…",
        "starts.look_around",
        key="F3",
        line_above=True,
    ),
    _tool("saw", "Saw"),
    Action("saw.keep", "Saw", "Keep this layout as a variant…", "edits.keep_variant", line_above=True),
    Action("saw.show", "Saw", "Show a variant", "edits.show_variant", choices="edits.variant_choices"),
    Action("saw.drop", "Saw", "Drop a variant", "edits.drop_variant", choices="edits.variant_choices"),
    Action("see.swap", "See", "Swap the two views", "views.swap", key="Space", key_of_view=True),
    Action("see.blank", "See", "Next blank", "page.next_blank", key="F4"),
    Action("see.checks", "See", "All checks", "page.read_all_checks", key="F5"),
    Action("see.why", "See", "What the verdict rests on", "page.read_why", key="F6"),
    Action(
        "see.play",
        "See",
        "Swing",
        "mounted.play_or_rest",
        key="F7",
        ticked="mounted.is_playing",
        line_above=True,
    ),
    Action("see.true", "See", "True scale", "mounted.true_scale", key="F8", ticked="mounted.is_true_scale"),
    Action("see.map", "See", "Map of stress", "mounted.stress_map", key="F12", ticked="mounted.has_map"),
    Action("see.forces", "See", "Bolt forces", "mounted.forces", key="F9", ticked="mounted.has_forces"),
    Action("see.case", "See", "Load case", "mounted.set_case", choices="mounted.case_choices"),
    Action("see.motion", "See", "Free motions", "mounted.set_motion", choices="mounted.motion_choices"),
    Action("see.stand", "See", "Look at it", "mounted.set_stand", choices="mounted.stand_choices"),
    Action("see.fit", "See", "Whole bracket as mounted", "mounted.fit", key="Ctrl+9"),
    Action("see.fit_flat", "See", "Whole flat pattern", "flat.fit", key="Ctrl+0"),
    Action("see.labels", "See", "Take pinned labels off", "mounted.take_labels_off"),
    Action(
        "see.paper",
        "See",
        "Ink on paper",
        "seeing.set_theme",
        argument="paper",
        ticked="seeing.is_theme",
        line_above=True,
    ),
    Action(
        "see.slate", "See", "Chalk on slate", "seeing.set_theme", argument="slate", ticked="seeing.is_theme"
    ),
    Action(
        "see.mm",
        "See",
        "Millimetres",
        "seeing.set_units",
        argument="mm",
        ticked="seeing.is_units",
        line_above=True,
    ),
    Action("see.inch", "See", "Inches", "seeing.set_units", argument="inch", ticked="seeing.is_units"),
    Action(
        "see.scale", "See", "Enlarge everything", "seeing.set_scale", choices="seeing.scales", line_above=True
    ),
    Action("help.sheet", "Help", "Help sheet", "window.show_help", key="F1"),
)
