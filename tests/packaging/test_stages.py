"""The stages of a check, its exit status and its closing line."""

from pathlib import Path

import pytest

import stages
import wheel_check

REPORT = '<testsuites><testsuite tests="{}" failures="{}" errors="{}" skipped="{}"/></testsuites>'


class Machine:
    """Stands in for the programs of the stages: what was called, and what each returns."""

    def __init__(self) -> None:
        self.called: list[str] = []
        self.codes: dict[str, int] = {}
        self.reports = {"tests": (5, 0, 0, 0), "display": (2, 0, 0, 0)}

    def call(self, words: list[str], variables: dict[str, str]) -> int:
        name = next((stage for stage, command in stages.QUICK.items() if command == words), "")
        if not name:
            name = "display" if variables["QT_QPA_PLATFORM"] == "xcb" else "tests"
            (report,) = [word.split("=")[1] for word in words if word.startswith("--junit-xml")]
            if name in self.reports:
                Path(report).write_text(REPORT.format(*self.reports[name]))
        self.called.append(name)
        return self.codes.get(name, 0)

    def wheel(self, variables: dict[str, str]) -> int:
        self.called.append("wheel")
        return self.codes.get("wheel", 0)


@pytest.fixture
def machine(monkeypatch: pytest.MonkeyPatch) -> Machine:
    one = Machine()
    monkeypatch.setattr(stages, "call", one.call)
    monkeypatch.setattr(stages, "can_show_windows", lambda: True)
    monkeypatch.setattr(wheel_check, "run", one.wheel)
    return one


def last_line(capsys: pytest.CaptureFixture[str]) -> str:
    return capsys.readouterr().out.splitlines()[-1]


def test_plain_check_runs_both_kinds_of_tests(machine: Machine, capsys: pytest.CaptureFixture[str]) -> None:
    assert stages.run([], {}) == 0
    assert machine.called == ["tests", "display"]
    assert last_line(capsys) == "7 passed, 0 failed"


def test_all_runs_cheap_stages_first_and_the_wheel_last(machine: Machine) -> None:
    assert stages.run(["--all"], {}) == 0
    assert machine.called == ["lint", "format", "contracts", "types", "tests", "display", "wheel"]


def test_first_failing_stage_gives_the_exit_status_and_the_rest_still_runs(machine: Machine) -> None:
    machine.codes = {"contracts": 3, "tests": 1}
    assert stages.run(["--all"], {}) == 3
    assert machine.called[-1] == "wheel"


def test_failed_tests_are_counted(machine: Machine, capsys: pytest.CaptureFixture[str]) -> None:
    machine.codes = {"display": 1}
    machine.reports["display"] = (4, 1, 1, 1)
    assert stages.run([], {}) == 1
    assert last_line(capsys) == "6 passed, 2 failed, 1 skipped"


@pytest.mark.parametrize("empty", ["tests", "display"])
def test_one_kind_without_a_chosen_test_is_no_failure(machine: Machine, empty: str) -> None:
    machine.codes = {empty: stages.NO_TEST_CHOSEN}
    machine.reports[empty] = (0, 0, 0, 0)
    assert stages.run(["tests/one"], {}) == 0


def test_no_chosen_test_at_all_is_a_failure(machine: Machine) -> None:
    machine.codes = {"tests": 5, "display": 5}
    machine.reports = {"tests": (0, 0, 0, 0), "display": (0, 0, 0, 0)}
    assert stages.run(["tests/none"], {}) == 5


def test_machine_without_a_display_runs_the_others(machine: Machine, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(stages, "can_show_windows", lambda: False)
    assert stages.run([], {}) == 0
    assert machine.called == ["tests"]


def test_crashed_pytest_is_a_failure_without_a_count(
    machine: Machine, capsys: pytest.CaptureFixture[str]
) -> None:
    machine.codes = {"tests": 134, "display": 134}
    machine.reports = {}
    assert stages.run([], {}) == 134
    assert "passed" not in capsys.readouterr().out


def test_missing_programs_of_the_display_tests_are_named(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("sys.platform", "linux")
    monkeypatch.setattr("shutil.which", lambda name: None)
    assert not stages.can_show_windows()
    assert "no Xvfb and no xdotool in this system" in capsys.readouterr().err
