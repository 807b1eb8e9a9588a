"""The speech model: a folder on the user's machine, found by option, variable or configuration, and checked before use.

Nothing is fetched unless the user asks for it by name (`fetch_model`).
"""

from __future__ import annotations

import hashlib
import os
import tomllib
from pathlib import Path

from saidspec.model import UnusableInput

VARIABLE = "SAIDSPEC_SPEECH_MODEL"
# What faster-whisper needs in a model's folder; without tokenizer.json it would look for one on the network.
NEEDED = ("config.json", "model.bin", "tokenizer.json")
VOCABULARIES = ("vocabulary.txt", "vocabulary.json")
_HOW = ("a model is a folder in CTranslate2 form with model.bin, config.json, tokenizer.json and vocabulary.txt or "
        ".json; `saidspec transcribe --fetch-model small.en` downloads one")  # fmt: skip


def config_path() -> Path:
    """The configuration file in the user's configuration folder; it need not exist."""
    from platformdirs import user_config_path

    return user_config_path("saidspec", appauthor=False) / "config.toml"


def model_folder(option: Path | str | None = None) -> Path:
    """The folder of the speech model, checked: from the option, the variable or the configuration file, in this order.

    Raises UnusableInput where none is named, where a file of it is missing, or where the configuration is broken.
    """
    if option is not None:
        return checked(Path(option), "--speech-model")
    if named := os.environ.get(VARIABLE):
        return checked(Path(named), VARIABLE)
    path = config_path()
    configured = _configured(path)
    if configured is None:
        raise UnusableInput("no speech model is chosen: name its folder with --speech-model, in the variable "
                            f'{VARIABLE}, or in {path} as speech.model = "FOLDER"; {_HOW}')  # fmt: skip
    return checked(Path(configured).expanduser(), str(path))


def _configured(path: Path) -> str | None:
    try:
        settings = tomllib.loads(path.read_text("utf-8"))
    except FileNotFoundError:
        return None
    except (OSError, ValueError) as bad:  # TOMLDecodeError and UnicodeDecodeError are ValueErrors
        raise UnusableInput(f"{path} cannot be read: {bad}") from bad
    speech = settings.get("speech", {})
    model = speech.get("model") if isinstance(speech, dict) else None
    if model is not None and not isinstance(model, str):
        raise UnusableInput(f'{path}: speech.model must be the folder of a model in quotes, not {model!r}')
    return model


def checked(folder: Path, named_by: str) -> Path:
    """The folder, if all files of a model are in it.  Raises UnusableInput and says which are missing."""
    if not folder.is_dir():
        what = "is a file, not the folder of a speech model" if folder.exists() else "is no folder"
        raise UnusableInput(f"the speech model {folder} (from {named_by}) {what}; {_HOW}")
    missing = [name for name in NEEDED if not (folder / name).is_file()]
    if not any((folder / name).is_file() for name in VOCABULARIES):
        missing.append(" or ".join(VOCABULARIES))
    empty = [name for name in NEEDED if (folder / name).is_file() and not (folder / name).stat().st_size]
    if missing or empty:
        lacks = [f"lacks {', '.join(missing)}"] if missing else []
        lacks += [f"has an empty {', '.join(empty)}"] if empty else []
        raise UnusableInput(f"the speech model {folder} (from {named_by}) {' and '.join(lacks)}; {_HOW}")
    return folder


def model_hash(folder: Path) -> str:
    """The SHA-256 over the names and contents of a model's files: the same model gives the same transcript."""
    told = hashlib.sha256()
    for name in (*NEEDED, *VOCABULARIES):
        path = folder / name
        if path.is_file():
            with path.open("rb") as file:
                told.update(f"{name} {hashlib.file_digest(file, 'sha256').hexdigest()}\n".encode())
    return told.hexdigest()


def fetch_model(name: str) -> Path:
    """Download the model of a size such as `small.en` into the user's data folder, because the user says so.

    Raises UnusableInput where it cannot be had.
    """
    from platformdirs import user_data_path

    try:
        from faster_whisper import available_models, download_model
    except ImportError as bad:
        raise UnusableInput(MISSING_EXTRA) from bad
    if name not in available_models():
        raise UnusableInput(f"{name} is no size of a speech model; there are {', '.join(available_models())}")
    folder = user_data_path("saidspec", appauthor=False) / "speech-models" / name
    try:
        download_model(name, output_dir=str(folder))
    except Exception as bad:  # whatever the download client raises: it is not ours and changes with its versions
        raise UnusableInput(f"the speech model {name} could not be downloaded: {first_line(bad)}") from bad
    return checked(folder, "--fetch-model")


def first_line(problem: Exception) -> str:
    """What an error says, in one line; its kind where it says nothing."""
    return (str(problem).splitlines() or [type(problem).__name__])[0]


MISSING_EXTRA = "a recording can be read once the extra `voice` is installed: pip install 'saidspec[voice]'"
