"""What commands are called in the history: the act and its thing, so that it reads well after *Undo*."""

from collections.abc import Collection

from washline.document.naming import counted, item_name, listed, step_name
from washline.model.book import HouseBook
from washline.model.reading import BY_KEY

MOST_LETTERS_OF_NAME = 60


def change_of_step(book: HouseBook, build_id: int, step_id: int) -> str:
    """*change of lime juice*: any change of one line or step."""
    return f"change of {_step(book, build_id, step_id)}"


def change_of_item(book: HouseBook, item_id: int) -> str:
    """*change of Pear Signal*: of a drink, part, raw ingredient or leftover itself."""
    return f"change of {_short(item_name(book, item_id))}"


def swap(book: HouseBook, build_id: int, step_id: int, item_id: int) -> str:
    """*swap of soda water for tonic*: another item in a line."""
    return f"swap of {_step(book, build_id, step_id)} for {_short(item_name(book, item_id))}"


def adding(book: HouseBook, item_id: int) -> str:
    """*adding gin*: a line put in."""
    return f"adding {_short(item_name(book, item_id))}"


def adding_step(kind: str) -> str:
    """*adding a strain*, *adding an adjustment*: a step put in, by the word for its kind."""
    article = "an" if kind[:1].lower() in "aeiou" else "a"
    return f"adding {article} {kind}"


def removing(book: HouseBook, build_id: int, step_ids: Collection[int]) -> str:
    """*removing gin*, *removing three steps*."""
    return f"removing {_steps(book, build_id, step_ids)}"


def cutting(book: HouseBook, build_id: int, step_ids: Collection[int]) -> str:
    """*cutting gin*: removed to be pasted elsewhere."""
    return f"cutting {_steps(book, build_id, step_ids)}"


def moving(book: HouseBook, build_id: int, step_ids: Collection[int]) -> str:
    """*moving gin*, *moving three steps*."""
    return f"moving {_steps(book, build_id, step_ids)}"


def leaving_out(book: HouseBook, build_id: int, step_ids: Collection[int], is_left_out: bool) -> str:
    """*leaving out gin*, *taking in gin again*."""
    what = _steps(book, build_id, step_ids)
    return f"leaving out {what}" if is_left_out else f"taking in {what} again"


def pasting(count: int) -> str:
    """*pasting three steps*."""
    return f"pasting {counted(count, 'step')}"


def making(name: str) -> str:
    """*making Pear Signal*: a new drink, part, raw ingredient or target."""
    return f"making {_short(name)}"


def renaming(old: str, new: str) -> str:
    """*renaming Ebb to Neap*."""
    return f"renaming {_short(old)} to {_short(new)}"


def removing_item(name: str) -> str:
    """*removing Pear Signal*."""
    return f"removing {_short(name)}"


def twisting(book: HouseBook, build_id: int) -> str:
    """*twist of Pear Signal*."""
    return f"twist of {_short(item_name(book, build_id))}"


def keeping_both(book: HouseBook, twist_id: int) -> str:
    """*keeping bay twist and Pear Signal*."""
    return f"keeping {_short(item_name(book, twist_id))} and {_parent(book, twist_id)}"


def taking_place(book: HouseBook, twist_id: int) -> str:
    """*bay twist taking the place of Pear Signal*."""
    return f"{_short(item_name(book, twist_id))} taking the place of {_parent(book, twist_id)}"


def letting_go(book: HouseBook, twist_id: int) -> str:
    """*letting go of bay twist*."""
    return f"letting go of {_short(item_name(book, twist_id))}"


def change_for_one(book: HouseBook, part_id: int, drink_id: int) -> str:
    """*change of cordial for Pear Signal alone*."""
    return f"change of {_short(item_name(book, part_id))} for {_short(item_name(book, drink_id))} alone"


def change_of_target(book: HouseBook, target_id: int, reading: str = "") -> str:
    """*change of target highball*, or of one reading of it: *change of acidity in target highball*."""
    name = book.targets[target_id].name if target_id in book.targets else "that is no longer there"
    what = f"{BY_KEY[reading].name.lower()} in " if reading else ""
    return f"change of {what}target {_short(name)}"


def choosing_target(book: HouseBook, build_id: int) -> str:
    """*target of Pear Signal*: another target chosen for a drink."""
    return f"target of {_short(item_name(book, build_id))}"


def change_of_settings() -> str:
    """*change of house settings*."""
    return "change of house settings"


def adding_entry(what: str, name: str) -> str:
    """*adding ice 50 mm cube*: an ice, vessel, glass, method or measure of the house."""
    return f"adding {what} {_short(name)}"


def change_of_entry(what: str, name: str) -> str:
    """*change of ice 50 mm cube*."""
    return f"change of {what} {_short(name)}"


def removing_entry(what: str, name: str) -> str:
    """*removing ice 50 mm cube*."""
    return f"removing {what} {_short(name)}"


def weighing(book: HouseBook, method: str, ice: str) -> str:
    """*weighing of stir on cubes*."""
    return f"weighing of {_on_ice(book, method, ice)}"


def forgetting_weighing(book: HouseBook, weighing_id: int) -> str:
    """*forgetting the weighing of stir on cubes of 2026-11-25*."""
    row = book.weighings.get(weighing_id)
    if row is None:
        return "forgetting a weighing"
    return f"forgetting the weighing of {_on_ice(book, row.method, row.ice)} of {row.date}"


def calibrating(book: HouseBook, method: str, ice: str) -> str:
    """*calibration of stir on cubes*."""
    return f"calibration of {_on_ice(book, method, ice)}"


def forgetting_calibration(book: HouseBook, slug: str) -> str:
    """*forgetting the calibration of stir on cubes*."""
    row = book.calibrations.get(slug)
    return f"forgetting the {calibrating(book, row.method, row.ice)}" if row else "forgetting a calibration"


def change_of_batch(book: HouseBook, build_id: int) -> str:
    """*change of the batch of Pear Signal*."""
    return f"change of the batch of {_short(item_name(book, build_id))}"


def importing(name: str) -> str:
    """*import of Pear Signal*."""
    return f"import of {_short(name)}"


def _on_ice(book: HouseBook, method: str, ice: str) -> str:
    way = book.methods[method].name if method in book.methods else method
    what = book.ices[ice].name if ice in book.ices else ice
    return f"{_short(way.lower())} on {_short(what.lower())}"


def _step(book: HouseBook, build_id: int, step_id: int) -> str:
    step = book.step(build_id, step_id)
    return _short(step_name(book, step)) if step is not None else "a step"


def _steps(book: HouseBook, build_id: int, step_ids: Collection[int]) -> str:
    names = [_step(book, build_id, step_id) for step_id in step_ids]
    return listed(names) if len(names) <= 2 else counted(len(names), "step")


def _parent(book: HouseBook, twist_id: int) -> str:
    twist = book.builds.get(twist_id)
    return _short(item_name(book, twist.parent_id or 0)) if twist is not None else "its parent"


def _short(name: str) -> str:
    return name if len(name) <= MOST_LETTERS_OF_NAME else name[: MOST_LETTERS_OF_NAME - 1].rstrip() + "…"
