"""What tests of this room share."""

import pytest
import yaml


@pytest.fixture(params=["libyaml", "plain Python"])
def parser(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> str:
    """Run the test with each of the two parsers that PyYAML may have."""
    if request.param == "plain Python":
        monkeypatch.delattr(yaml, "CSafeLoader", raising=False)
    elif not yaml.__with_libyaml__:
        pytest.skip("PyYAML was built without libyaml")
    return str(request.param)
