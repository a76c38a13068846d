"""A lesson's words in another language: what is found, what is missing, what is wrong, each at its place."""

from __future__ import annotations

from lessonkit.build import Order, Source, work
from lessonkit.layout.card_order import CardOrder
from lessonkit.pieces.model import Kit
from lessonkit.problems import Problem
from tests.lessons_for_tests import ROOM

LESSON = """\
title: Porthole
about: A round frame.
technique: slab
pieces:
  - name: frame
    flat: {outline: {circle: {across: 160 mm}}}
words: {slip: Clay and water.}
steps:
  - id: roll
    title: Roll the slab
    minutes: 6
    levels:
      easy: {text: Roll it., full: Roll it on the sticks., early: roll more.}
      advanced: {text: Roll it evenly., good: it is even.}
    stop: {easy: Is it flat?, advanced: "Is it {thickness}?"}
    safety: Mind your fingers.
    word: slip
    station: Join
  - {id: smooth, title: Smooth, minutes: 2, text: Stroke the edge once.}
stations:
  - {name: Join, do: [Score., Press.], pictures: [score, join], need: [slip], come: it is cut, next: Join, safety: Forks down.}
"""
SPANISH = """\
title: Ojo de buey
levels: {easy: Nuevo, advanced: Ya lo hice}
steps:
  roll:
    title: Estira la placa
    levels:
      easy: {text: Estírala., full: Estírala sobre los listones., early: estira más.}
      advanced: {text: Estírala pareja., good: está pareja.}
    stop: {easy: ¿Está plana?, advanced: "¿Mide {thickness}?"}
    safety: Cuida los dedos.
  smooth: {title: Alisa, text: Pasa el dedo una vez.}
stations:
  Join: {name: Unir, do: [Raya., Presiona.], need: [barbotina], come: está cortada, safety: Tenedores abajo.}
words: {slip: {word: barbotina, means: Barro y agua.}}
"""


def worked(spanish: str, lesson: str = LESSON, languages: tuple[str, ...] = ()) -> tuple[Kit | None, tuple[Problem, ...]]:
    def beside(name: str) -> bytes:
        if name != "porthole.es.yaml":
            raise OSError(name)
        return spanish.encode()

    source = Source("here/porthole.yaml", lesson.encode(), beside)
    return work(source, Source("room.yaml", ROOM.encode()), order=Order(cards=CardOrder(languages=languages)))


def translated(spanish: str, lesson: str = LESSON) -> tuple[Kit, list[str]]:
    kit, problems = worked(spanish, lesson)
    assert kit
    return kit.translations["es"], [str(problem) for problem in problems]


def faults(spanish: str, lesson: str = LESSON) -> list[str]:
    kit, problems = worked(spanish, lesson)
    assert kit is not None
    assert kit.translations == {}
    return [str(problem) for problem in problems]


def test_a_whole_translation_is_whole() -> None:
    kit, problems = translated(SPANISH)
    assert problems == []
    assert (kit.lesson.title, kit.room.language, kit.room.levels) == ("Ojo de buey", "es", {"easy": "Nuevo", "advanced": "Ya lo hice"})
    easy, advanced = kit.steps["easy"][0], kit.steps["advanced"][0]
    assert (easy.title, easy.text, easy.early) == ("Estira la placa", "Estírala.", "estira más.")
    assert (easy.stop, easy.safety) == ("¿Está plana?", ("Cuida los dedos.",))
    assert (advanced.text, advanced.good, advanced.stop) == ("Estírala pareja.", "está pareja.", "¿Mide 8\u00a0mm?")
    assert easy.word == ("barbotina", "Barro y agua.")
    assert (easy.station, kit.lesson.stations[0].next) == ("Unir", "Unir")
    assert kit.lesson.stations[0].do == ("Raya.", "Presiona.")
    assert [step.text for step in (kit.steps["easy"][1], kit.steps["advanced"][1])] == ["Pasa el dedo una vez."] * 2


def test_what_is_missing_stays_is_marked_and_is_reported_at_its_place() -> None:
    spanish = SPANISH.replace("    safety: Cuida los dedos.\n", "").replace(", good: está pareja.", "")
    spanish = spanish.replace("  smooth: {title: Alisa, text: Pasa el dedo una vez.}\n", "")
    kit, problems = translated(spanish.replace("{easy: Nuevo, advanced: Ya lo hice}", "{easy: Nuevo}"))
    assert kit.steps["easy"][0].safety == ("[en] Mind your fingers.",)
    assert kit.steps["advanced"][0].good == "[en] it is even."
    assert (kit.steps["easy"][1].title, kit.steps["easy"][1].text) == ("[en] Smooth", "[en] Stroke the edge once.")
    assert kit.room.levels["advanced"] == "[en] Done this before"
    end = "; it is printed as it is, marked [en]. Add what is missing."
    assert problems == [
        f"here/porthole.es.yaml:5:5: warning: step “roll” is not translated (advanced good, safety){end}",
        f"here/porthole.es.yaml:4:3: warning: step “smooth” is not translated (title, text){end}",
        f"here/porthole.es.yaml:2:9: warning: what the levels are called is not translated (Done this before){end}",
    ]


def test_an_empty_translation_reports_every_step_station_and_word() -> None:
    kit, problems = translated("title: Ojo de buey\n")
    assert [line.split(" is not translated")[0].split("warning: ")[1] for line in problems] == [
        "the word “slip”", "the station Join", "step “roll”", "step “smooth”", "what the levels are called",
    ]  # fmt: skip
    assert kit.steps["easy"][0].word == ("[en] slip", "[en] Clay and water.")
    assert kit.lesson.stations[0].name == "[en] Join"


def test_names_that_the_lesson_does_not_have_are_errors() -> None:
    spanish = SPANISH.replace("  roll:", "  rol:").replace("  Join:", "  Joint:").replace("{slip:", "{slop:").replace("easy: ¿", "eazy: ¿")
    told = "\n".join(faults(spanish))
    for line in (
        "here/porthole.es.yaml:4:3: error: the lesson has no step called “rol”. Did you mean roll?",
        "porthole.es.yaml:13:3: error: the lesson has no station called “Joint”. Did you mean Join?",
        "porthole.es.yaml:14:9: error: the lesson has no word called “slop”. Did you mean slip?",
        "porthole.es.yaml:9:12: error: the lesson has no level called “eazy”. Did you mean easy?",
    ):
        assert line in told


def test_faults_of_the_file_are_told_at_their_place() -> None:
    (told,) = faults(SPANISH.replace("safety: Cuida", "seguridad: Cuida"))
    assert told.startswith("here/porthole.es.yaml:10:5: error: “seguridad” is not a word that can stand here.")
    assert faults(SPANISH.replace("{thickness}", "{thicknes}")) == [
        "here/porthole.es.yaml:9:42: error: there is no size called {thicknes}. Did you mean {thickness}?"
    ]
    assert "Join has 2 lines to do in the lesson, and 1 here." in faults(SPANISH.replace("[Raya., Presiona.]", "[Raya.]"))[0]
    assert "cannot be printed" in faults(SPANISH.replace("Alisa", "滑"))[0]
    assert "a space is missing" in faults(SPANISH.replace("title: Ojo", "title:Ojo"))[0]


def test_a_language_that_is_not_there_stops_what_asks_for_it() -> None:
    kit, problems = worked(SPANISH.replace("{thickness}", "{thicknes}"), languages=("en", "es"))
    assert kit is None
    assert "this lesson is not there in the language es. Put its words beside it, in porthole.es.yaml." in str(problems[-1])


def test_one_title_may_stand_for_all_levels_in_either_file() -> None:
    lesson = LESSON.replace("title: Roll the slab", "title: {easy: Roll, advanced: Roll evenly}")
    kit, _ = translated(SPANISH, lesson)
    assert [kit.steps[level][0].title for level in ("easy", "advanced")] == ["Estira la placa"] * 2
    kit, problems = translated(SPANISH.replace("title: Estira la placa", "title: {easy: Estira, advanced: Estira parejo}"))
    assert [kit.steps[level][0].title for level in ("easy", "advanced")] == ["Estira", "Estira parejo"]
    assert problems == []
