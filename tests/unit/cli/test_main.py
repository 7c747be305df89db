"""The command line's common parts: exit codes, the shape of errors, and a quick start."""

import ast
import json
import re
import subprocess
import sys
from pathlib import Path

import pytest
import typer

from hundredfold import __version__
from hundredfold.cli import main as main_module
from hundredfold.cli.main import VERBS, Verb, main
from hundredfold.cli.options import HERE, JsonOption, ShopOption
from hundredfold.kernel.errors import ExitCode, ShopError, Where

Capture = pytest.CaptureFixture[str]


def _failing(error: BaseException) -> tuple[Verb, ...]:
    def run(shop: ShopOption = HERE, as_json: JsonOption = False) -> ExitCode:
        """Fail."""
        raise error

    return (Verb("fail", run), Verb("other", run))


REFUSAL = ShopError("no-shop", "this folder is not a shop", "name one with --shop", Where("demo", 3))


def test_the_answer_of_a_verb_is_the_exit_code() -> None:
    def run(as_json: JsonOption = False) -> ExitCode:
        """Find problems."""
        return ExitCode.PROBLEMS

    assert main(["look"], (Verb("look", run), Verb("other", run))) == 1


def test_an_error_is_two_lines_on_stderr(capsys: Capture) -> None:
    assert main(["fail"], _failing(REFUSAL)) == 2
    out, err = capsys.readouterr()
    assert (out, err) == ("", "demo, line 3: this folder is not a shop\n  try: name one with --shop\n")


def test_the_error_shape(capsys: Capture) -> None:
    """With --json an error is {"error": {slug, what, where: {file, line, row, field}, try}} on stdout."""
    assert main(["fail", "--json"], _failing(ShopError.several([REFUSAL, REFUSAL]))) == 2
    out, err = capsys.readouterr()
    one = {
        "slug": "no-shop",
        "what": "this folder is not a shop",
        "where": {"file": "demo", "line": 3, "row": None, "field": ""},
        "try": "name one with --shop",
    }
    assert (json.loads(out), err) == ({"error": one, "others": [one]}, "")


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["fial"], "Did you mean"),
        (["fail", "--shp", "x"], "--shp"),
        (["fail", "extra"], "extra"),
    ],
)
def test_wrong_use_is_exit_code_2_with_advice(capsys: Capture, arguments: list[str], said: str) -> None:
    assert main(arguments, _failing(REFUSAL)) == 2
    err = capsys.readouterr().err
    assert said in err
    assert "--help shows what it takes" in err


@pytest.mark.parametrize("error", [KeyboardInterrupt(), typer.Abort()])
def test_ctrl_c_says_that_everything_done_is_kept(capsys: Capture, error: BaseException) -> None:
    assert main(["fail"], _failing(error)) == 130
    assert "everything finished so far is kept" in capsys.readouterr().err


@pytest.mark.parametrize("named", ["option", "equals", "variable"])
def test_our_bug_is_one_line_and_a_log_in_the_shop(
    capsys: Capture, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, named: str
) -> None:
    (tmp_path / "shop.toml").write_text("")
    arguments = {"option": ["--shop", str(tmp_path)], "equals": [f"--shop={tmp_path}"], "variable": []}[named]
    if named == "variable":
        monkeypatch.setenv("HUNDREDFOLD_SHOP", str(tmp_path))
    assert main(["fail", *arguments], _failing(ZeroDivisionError("secret detail"))) == 70
    err = capsys.readouterr().err
    (log,) = (tmp_path / ".hundredfold" / "logs").iterdir()
    assert len(err.splitlines()) == 2
    assert str(log) in err
    assert "Traceback" not in err
    text = log.read_text(encoding="utf-8")
    assert "ZeroDivisionError: secret detail" in text
    assert f"hundredfold {__version__}" in text


def test_our_bug_outside_a_shop_is_logged_elsewhere(capsys: Capture, tmp_path: Path) -> None:
    assert main(["fail", "--shop", str(tmp_path)], _failing(ZeroDivisionError())) == 70
    assert "hundredfold-logs" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_version_and_help(capsys: Capture) -> None:
    assert main(["--version"]) == 0
    assert capsys.readouterr().out == f"hundredfold {__version__}\n"
    assert main([]) == 0
    without = capsys.readouterr().out
    assert main(["--help"]) == 0
    assert capsys.readouterr().out == without
    assert "hundredfold demo" in without


@pytest.mark.parametrize("verb", VERBS, ids=lambda verb: verb.words)
def test_every_verb_explains_itself_and_answers_programs(capsys: Capture, verb: Verb) -> None:
    assert main([*verb.words.split(), "--help"]) == 0
    shown = capsys.readouterr().out
    assert "Example" in shown
    assert "--json" in shown
    assert verb.words == "new" or "--shop" in shown or verb.words == "demo"
    assert all(len(line) <= 80 for line in shown.splitlines())


def test_every_verb_that_is_written_is_listed() -> None:
    written = set()
    for path in Path(main_module.__file__).parent.glob("*.py"):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        names = [node.name for node in tree.body if isinstance(node, ast.FunctionDef)]
        written |= {(path.stem, name) for name in names if re.fullmatch("run(_[a-z]+)?", name)}
    listed = {(verb.run.__module__.rpartition(".")[2], verb.run.__name__) for verb in VERBS}
    assert listed == written - {("main", "run")}


def test_the_list_names_every_verb_with_its_line_uncut(capsys: Capture) -> None:
    assert main(["--help"]) == 0
    lines = [line.split("  ") for line in capsys.readouterr().out.splitlines()]
    shown = {words[1]: words[-1].strip() for words in lines if len(words) > 2 and not words[0]}
    for verb in VERBS:
        assert verb.short, f"give {verb.words} a part and a short line in VERBS"
        assert shown[verb.words] == verb.short


def test_help_loads_no_image_library() -> None:
    code = (
        "import sys; from hundredfold.cli.main import main; main(['--help']);"
        "print(sorted({'numpy', 'cv2', 'pyvips', 'scipy', 'sqlalchemy', 'rich'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "[]"
