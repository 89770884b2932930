"""A rich sheet and its files, made once for all tests of the writers."""

from __future__ import annotations

import importlib.util
from pathlib import Path

import pytest

from outputs.files.dxf import dxf_bytes
from outputs.files.svg import svg_bytes

HERE = Path(__file__).parent


@pytest.fixture(scope="session")
def rich():
    """The module that builds the sheet."""
    spec = importlib.util.spec_from_file_location("rich_sheet", HERE / "rich_sheet.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="session")
def rich_sheet(rich):
    return rich.rich_sheet()


@pytest.fixture(scope="session")
def rich_svg(rich_sheet):
    return svg_bytes(rich_sheet)


@pytest.fixture(scope="session")
def rich_dxf(rich_sheet):
    return dxf_bytes(rich_sheet)


@pytest.fixture
def rich_document(rich_dxf):
    """The DXF as ezdxf reads it back."""
    import io

    import ezdxf

    return ezdxf.read(io.StringIO(rich_dxf.decode("utf-8"), newline="\n"))
