"""Any command on any house: for tests that must hold after whatever a person may do."""

from collections.abc import Callable, Sequence

from hypothesis import strategies as st
from msgspec import structs

from tests.document.house import rest
from washline.document.commands import (
    copies,
    items,
    leftovers,
    lines,
    makings,
    raws,
    steps,
    targets,
    twisting,
    weighings,
)
from washline.document.commands.command import Command
from washline.document.commands.house import (
    put_ice,
    put_method,
    put_vessel,
    remove_ice,
    remove_method,
    remove_vessel,
    set_settings,
)
from washline.document.commands.placing import AT_START
from washline.model.amount import Amount, Basis, Heft
from washline.model.book import HouseBook
from washline.model.house import Calibration, Ice, Swap, Vessel, Weighing
from washline.model.item import Batch, Build, Today
from washline.model.step import (
    Add,
    Adjust,
    AnyStep,
    BarStrain,
    BarStrainWay,
    Carbonate,
    Chill,
    Evaporate,
    Ferment,
    FermentKind,
    Garnish,
    GarnishWay,
    Goal,
    Heat,
    IceState,
    Infuse,
    Measurable,
    Measurement,
    Muddle,
    Note,
    Per,
    Portion,
    Reduce,
    Rinse,
    Smoke,
    Strain,
    Take,
    Top,
    Wash,
    WashKind,
    Weight,
)
from washline.model.target import Aim

Draw = Callable[[st.SearchStrategy[object]], object]

NAMES = st.text(min_size=1, max_size=20).filter(lambda name: name.strip())
NUMBERS = st.one_of(st.floats(0.0, 500.0), st.sampled_from([0.0, 1.0, 22.5, 45.0]), st.floats())
"""Mostly what can be typed in earnest, sometimes what must be refused."""

KINDS = (
    "add", "amount", "item", "kind", "step", "set", "leave out", "remove", "move", "paste", "leftover", "rename",
    "new", "build", "raw", "settings", "drop", "twist", "decide", "for one", "target",
    "portions", "making", "acts as", "today", "ice", "vessel", "method", "weigh", "calibrate", "swaps", "batch",
)  # fmt: skip


class Maker:
    """Draws commands that fit a house book."""

    def __init__(self, draw: Callable[..., object], book: HouseBook) -> None:
        self._draw = draw
        self.book = book

    def one_of(self, values: Sequence[object]):  # type: ignore[no-untyped-def]
        return self._draw(st.sampled_from(list(values)))

    def number(self) -> float:
        return self._draw(NUMBERS)  # type: ignore[return-value]

    def build(self) -> Build:
        return self.one_of(list(self.book.builds.values()))  # type: ignore[no-any-return]

    def build_with_steps(self) -> Build:
        return self.one_of([build for build in self.book.builds.values() if build.steps])  # type: ignore[no-any-return]

    def item_id(self) -> int:
        return self.one_of([*self.book.raws, *self.book.builds, *self.book.leftovers])  # type: ignore[no-any-return]

    def step_ids(self, build: Build) -> list[int]:
        ids = st.lists(
            st.sampled_from([step.id for step in build.steps]), min_size=1, max_size=3, unique=True
        )
        return self._draw(ids)  # type: ignore[return-value]

    def after(self, build: Build) -> int | None:
        return self.one_of([None, AT_START, *(step.id for step in build.steps)])  # type: ignore[no-any-return]

    def amount(self, build: Build) -> Amount:
        basis = self.one_of(list(Basis))
        of: tuple[int, ...] = ()
        if basis in (Basis.PERCENT_OF_LINES, Basis.PARTS) and build.steps:
            of = (self.one_of([step.id for step in build.steps]),)
        return Amount(self.number(), self.one_of(["g", "ml", "oz", "dash", "piece", "bucket"]), basis, of,
                      heft=self.one_of([Heft.EVEN, Heft.EVEN, *Heft]))  # fmt: skip

    def grams(self, build: Build) -> dict[int, float]:
        """Grams found for every line, or for none."""
        return self.one_of([{}, {step.id: 10.0 for step in build.steps}])  # type: ignore[no-any-return]

    def new_step(self) -> AnyStep:
        common = {"id": 0, "build_id": 0, "place": 0.0}
        return self.one_of(  # type: ignore[no-any-return]
            [
                rest(5.0),
                Note(**common, words="cloudy"),
                Strain(**common, weighed_g=self.number()),
                Strain(**common, expected_pct=80.0, low_pct=70.0, high_pct=90.0),
                Strain(**common, way="press", weighed_g=self.number(), measured_brix=self.number()),
                Reduce(**common, final_pct=60.0),
                Heat(**common, final_brix=self.number(), ethanol_way="simmered"),
                Muddle(**common),
                Wash(**common, kind=self.one_of(WashKind), fat_held_pct=self.number()),
                Ferment(**common, kind=self.one_of(FermentKind), gas_lost_g=1.0, final_ph=self.number()),
                self.adjustment(),
                Measurement(**common, quantity=self.one_of(Measurable), value=self.number(), gain=0.5),
                Take(**common, amount=Amount(20.0, "%", Basis.PERCENT_OF_VESSEL)),
                Chill(**common, method=self.one_of(["build", "throw", "shake", "swizzle"])),
                Chill(
                    **common, method="throw", ice=self.one_of(["", "cubes"]), ice_state=self.one_of(IceState)
                ),
                BarStrain(
                    **common,
                    way=self.one_of(BarStrainWay),
                    fresh_ice="cubes",
                    fresh_ice_g=self.number(),
                    vessel_c=4.0,
                ),
                Smoke(**common),
                Carbonate(**common, vessel=self.one_of(["", "bottle", "keg"]), co2_g_per_l=self.number()),
            ]
        )

    def portions(self) -> tuple[Portion, ...]:
        portion = st.builds(Portion, st.sampled_from([*self.book.raws, *self.book.builds, *self.book.leftovers]),
                            st.sampled_from([1.0, 2.5, 0.0, 1.0]))  # fmt: skip
        return tuple(self._draw(st.lists(portion, max_size=2)))  # type: ignore[arg-type]

    def adjustment(self) -> Adjust:
        goal: dict[str, object] = self.one_of(
            [{"value": self.number()}, {"like_item_id": self.item_id()}, {}]
        )
        return Adjust(
            id=0,
            build_id=0,
            place=0.0,
            goal=self.one_of(Goal),
            per=self.one_of(Per),
            portions=self.portions(),
            **goal,
        )  # type: ignore[arg-type]

    def command(self) -> Command:
        """Any command; it may be refused."""
        return getattr(self, "_" + self.one_of(KINDS).replace(" ", "_"))()  # type: ignore[no-any-return]

    def _add(self) -> Command:
        build = self.build()
        kind = self.one_of([Add, Infuse, Rinse, Top, Garnish])
        return lines.add_line(build.id, self.item_id(), self.amount(build), self.after(build), kind)

    def _amount(self) -> Command:
        build = self.build_with_steps()
        return lines.set_amount(build.id, self.step_ids(build)[0], self.amount(build))

    def _item(self) -> Command:
        build = self.build_with_steps()
        return lines.set_item(build.id, self.step_ids(build)[0], self.item_id())

    def _kind(self) -> Command:
        build = self.build_with_steps()
        return lines.set_kind(
            build.id, self.step_ids(build)[0], self.one_of([Add, Infuse, Rinse, Top, Garnish])
        )

    def _step(self) -> Command:
        build = self.build()
        return steps.add_step(build.id, self.new_step(), self.after(build), self.one_of(["", "pulp"]))

    def _set(self) -> Command:
        build = self.build_with_steps()
        step = self.one_of(build.steps)
        fields: dict[str, object] = {"words": self.one_of(["", "gently"])}
        if isinstance(step, Strain):
            fields["weighed_g"] = self.one_of([None, 100.0, self.number()])
        if isinstance(step, Add | Infuse):
            fields |= {"weight": self.one_of(Weight), "bought_g": self.one_of([None, 50.0, self.number()])}
        if isinstance(step, Infuse):
            fields["acids_given_pct"] = self.one_of([None, 40.0, self.number()])
        if isinstance(step, Evaporate):
            fields[self.one_of(["final_g", "final_pct", "final_brix"])] = self.number()
        if isinstance(step, Adjust):
            fields |= self.one_of(
                [{"value": self.number()}, {"like_item_id": self.item_id()}, {"per": Per.VOLUME}]
            )
        if isinstance(step, Measurement):
            fields["value"] = self.number()
        if isinstance(step, Chill):
            fields[self.one_of(["melted_g", "final_g", "final_ml", "end_c", "ice_g", "vessel_c"])] = (
                self.number()
            )
        if isinstance(step, Top):
            fields["is_layer"] = self.one_of([True, False])
        if isinstance(step, Garnish):
            fields |= {"way": self.one_of(GarnishWay), "stays_g": self.one_of([None, 0.1, self.number()])}
        if isinstance(step, Rinse):
            fields["film_ml"] = self.one_of([None, 1.0, self.number()])
        if isinstance(step, BarStrain):
            fields["held_back_ml"] = self.one_of([None, 3.0, self.number()])
        return steps.set_step(build.id, step.id, **fields)

    def _leave_out(self) -> Command:
        build = self.build_with_steps()
        return steps.leave_out(build.id, self.step_ids(build), self.one_of([True, False]))

    def _remove(self) -> Command:
        build = self.build_with_steps()
        return steps.remove_steps(build.id, self.step_ids(build), self.grams(build))

    def _move(self) -> Command:
        build = self.build_with_steps()
        before = self.one_of([None, *(step.id for step in build.steps)])
        return steps.move_steps(build.id, self.step_ids(build), before)

    def _paste(self) -> Command:
        build, target = self.build_with_steps(), self.build()
        copied = copies.copy_steps(self.book, build.id, self.step_ids(build), self.grams(build))
        return copies.paste_steps(copied, target.id, self.after(target))

    def _leftover(self) -> Command:
        build = self.build_with_steps()
        step_id = self.step_ids(build)[0]
        return self.one_of(  # type: ignore[no-any-return]
            [leftovers.name_leftover(build.id, step_id, "spent"), leftovers.drop_leftover(build.id, step_id)]
        )

    def _rename(self) -> Command:
        return items.rename(self.item_id(), self._draw(NAMES))  # type: ignore[arg-type]

    def _new(self) -> Command:
        name = self._draw(NAMES)
        make = self.one_of([items.new_drink, items.new_part, raws.new_raw])
        return make(name)  # type: ignore[no-any-return]

    def _build(self) -> Command:
        return items.set_build(
            self.build().id,
            glass=self.one_of([None, "rocks"]),
            target_id=self.one_of([None, *self.book.targets]),
            wash_line_ml=self.one_of([None, 175.0]),
        )

    def _raw(self) -> Command:
        raw_id = self.one_of(list(self.book.raws))
        return raws.set_component(
            raw_id, self.one_of(["citric", "sucrose", "water"]), self.one_of([None, 0.0, 1.5])
        )

    def _settings(self) -> Command:
        return set_settings(fridge_c=self.one_of([2.0, 4.0]), oz_ml=self.one_of([29.5735, 30.0]))

    def _drop(self) -> Command:
        return items.remove_item(self.item_id())

    def _twist(self) -> Command:
        return twisting.make_twist(self.build().id, self._draw(NAMES))  # type: ignore[arg-type]

    def _decide(self) -> Command:
        twists = [build.id for build in self.book.builds.values() if build.parent_id is not None]
        decide = self.one_of([twisting.keep_both, twisting.take_parents_place, twisting.let_go])
        return decide(self.one_of(twists or [self.build().id]))  # type: ignore[no-any-return]

    def _for_one(self) -> Command:
        drink = self.build()
        parts = [
            step.item_id for step in drink.steps if isinstance(step, Add) and step.item_id in self.book.builds
        ]
        part = self.book.builds[self.one_of(parts)] if parts else self.build()
        change = steps.add_step(part.id, self.new_step(), None, "pulp")
        return twisting.twist_part_for(drink.id, [part.id], change)

    def _portions(self) -> Command:
        build = self.build_with_steps()
        adjustments = [step.id for step in build.steps if isinstance(step, Adjust)]
        step_id = self.one_of(adjustments or [self.step_ids(build)[0]])
        return steps.set_portions(build.id, step_id, self.portions())

    def _making(self) -> Command:
        build = self.build_with_steps()
        before_g = {step.id: 1000.0 for step in build.steps}
        record, start = makings.record_making, makings.start_making
        make = self.one_of([record, start])
        return self.one_of(  # type: ignore[no-any-return]
            [
                make(build.id, "2026-11-21", before_g),
                makings.remove_making(self.one_of([*self.book.makings, 999])),
            ]
        )

    def _acts_as(self) -> Command:
        item_id = self.one_of([None, self.item_id()])
        leftover_id = self.one_of([*self.book.leftovers, 999])
        return self.one_of(  # type: ignore[no-any-return]
            [
                items.set_build(self.build().id, acts_as_id=item_id, value_per_kg=self.number()),
                leftovers.set_leftover(leftover_id, acts_as_id=item_id, may_contain=("nuts",)),
            ]
        )

    def _today(self) -> Command:
        today = Today(self.number(), -5.0, self.one_of(["2026-11-22T02:00", "tonight"]), "tasted")
        return raws.set_raw(self.one_of(list(self.book.raws)), today=self.one_of([None, today]))

    def _ice(self) -> Command:
        slug = self.one_of(["cubes", "pebble"])
        made = Ice(slug=str(slug), name=str(slug).title(), pace=self.one_of([1.0, 2.0, self.number()]))
        return self.one_of([put_ice(made), remove_ice(str(slug))])  # type: ignore[no-any-return]

    def _vessel(self) -> Command:
        slug = self.one_of(["bottle", "keg"])
        made = Vessel(
            slug=str(slug),
            name="Vessel",
            volume_ml=200.0,
            rated_kpa=self.one_of([None, 600.0, self.number()]),
        )
        return self.one_of([put_vessel(made), remove_vessel(str(slug))])  # type: ignore[no-any-return]

    def _method(self) -> Command:
        method = self.one_of(list(self.book.methods.values()))
        changed = structs.replace(method, tau_s=self.number(), vessel_is_cold=self.one_of([True, False]))
        return self.one_of([put_method(changed), remove_method(method.slug)])  # type: ignore[no-any-return]

    def _weigh(self) -> Command:
        build = self.build()
        step_id = self.one_of([None, *(step.id for step in build.steps)])
        made = Weighing(
            id=0, method="throw", ice="cubes", date="2026-11-21", build_id=build.id, step_id=step_id,
            composition=tuple([1.0] * 24), liquid_c=18.0, ice_g=150.0, melted_g=self.number(),
        )  # fmt: skip
        forgotten = self.one_of([*self.book.weighings, 999])
        return self.one_of(  # type: ignore[no-any-return]
            [weighings.weigh(made), weighings.weigh(made), weighings.forget_weighing(forgotten)]
        )

    def _calibrate(self) -> Command:
        made = Calibration(
            slug="throw/cubes", method="throw", ice="cubes", date="2026-11-21", tau_s=self.number()
        )
        return self.one_of(  # type: ignore[no-any-return]
            [weighings.calibrate(made), weighings.forget_calibration("throw/cubes")]
        )

    def _swaps(self) -> Command:
        swap = Swap(self.item_id(), self.one_of([None, self.item_id()]), self.one_of([0.5, self.number()]))
        return set_settings(swaps=self.one_of([(), (swap,)]))

    def _batch(self) -> Command:
        batch = Batch(serves=self.number(), vessel=self.one_of(["", "bottle"]))
        return items.set_batch(self.build().id, self.one_of([None, batch]))

    def _target(self) -> Command:
        target_id = self.one_of([*self.book.targets, 999])
        aim = Aim("fizz", 1.0, self.number(), 300.0)
        return self.one_of(  # type: ignore[no-any-return]
            [
                targets.add_aim(target_id, aim),
                targets.set_aim(target_id, aim),
                targets.remove_aim(target_id, "fizz"),
                targets.remove_target(target_id, and_clear=True),
                targets.new_target("new", [aim, Aim("length", 1.0, 2.0, 3.0), Aim("chill", -5.0, 0.0, 5.0)]),
            ]
        )
