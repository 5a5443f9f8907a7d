"""The description of the JSON interface: valid, complete, and open to anyone."""

import json
from typing import Any

import pytest
from openapi_spec_validator import validate

from monreq.web.api import PREFIX
from monreq.web.api_operations import OPERATIONS
from tests.support.api_client import ApiClient
from tests.support.web_app import Site


@pytest.fixture
def document(site: Site) -> dict[str, Any]:
    """The document as anyone gets it."""
    return dict(ApiClient(site.app, None).get("/openapi.json").json)


def operations(document: dict[str, Any]) -> dict[tuple[str, str], dict[str, Any]]:
    return {
        (path, method): operation
        for path, item in document["paths"].items()
        for method, operation in item.items()
    }


def test_the_document_is_valid_openapi(document: dict[str, Any]) -> None:
    assert document["openapi"] == "3.1.0"

    validate(document)


def test_the_document_has_every_route_and_no_other(site: Site, document: dict[str, Any]) -> None:
    routes = {
        (rule.rule.replace("<", "{").replace(">", "}"), method.lower())
        for rule in site.app.url_map.iter_rules()
        if rule.rule.startswith(PREFIX)
        for method in (rule.methods or set()) - {"HEAD", "OPTIONS"}
    }

    assert set(operations(document)) == routes
    assert len(routes) == len(OPERATIONS)


def test_the_contract_is_in_the_document(document: dict[str, Any]) -> None:
    promised = {
        ("/queue", "get"): {"200", "401", "403", "410", "421", "429", "503"},
        ("/mixes", "get"): {"200", "401", "410", "421", "429", "503"},
        ("/mixes/{mix}", "get"): {"200", "401", "403", "404", "410", "421", "429", "503"},
        ("/mixes/{mix}/history", "get"): {"200", "401", "403", "404", "410", "421", "422", "429", "503"},
        ("/mixes/{mix}/requests", "post"): {
            *("200", "201", "400", "401", "403", "404", "410", "413", "415", "421", "422", "429", "503")
        },
        ("/requests/{request_id}", "get"): {"200", "401", "404", "410", "421", "429", "503"},
        ("/requests/{request_id}", "delete"): {
            *("200", "401", "403", "404", "409", "410", "421", "429", "503")
        },
        ("/decisions", "post"): {
            *("200", "400", "401", "403", "404", "409", "410", "413", "415", "421", "422", "429", "503")
        },
        ("/decisions/{decision}/undo", "post"): {
            *("200", "400", "401", "403", "404", "409", "410", "413", "415", "421", "422", "429", "503")
        },
        ("/openapi.json", "get"): {"200", "421"},
    }

    described = operations(document)

    assert {key: set(described[PREFIX + key[0], key[1]]["responses"]) for key in promised} == promised


def test_all_but_the_document_itself_want_a_token(document: dict[str, Any]) -> None:
    scheme = document["components"]["securitySchemes"]["token"]
    is_open = {key for key, operation in operations(document).items() if operation["security"] == []}

    assert (scheme["type"], scheme["scheme"]) == ("http", "bearer")
    assert is_open == {(f"{PREFIX}/openapi.json", "get")}


def test_every_parameter_is_described(document: dict[str, Any]) -> None:
    for (path, _), operation in operations(document).items():
        in_path = [one["name"] for one in operation["parameters"] if one["in"] == "path"]

        assert in_path == [part[1:-1] for part in path.split("/") if part.startswith("{")]
        assert all(one["description"] for one in operation["parameters"])


def test_every_figure_in_db_says_its_unit(document: dict[str, Any]) -> None:
    figures = {
        f"{schema}.{name}": property_
        for schema, body in document["components"]["schemas"].items()
        for name, property_ in body.get("properties", {}).items()
        if name.endswith("_db") and "$ref" not in property_
    }

    assert len(figures) > 20
    assert {name for name, said in figures.items() if "[dB]" not in json.dumps(said)} == set()


def test_no_schema_stands_unused(document: dict[str, Any]) -> None:
    text = json.dumps(document)

    unused = {name for name in document["components"]["schemas"] if f'schemas/{name}"' not in text}

    assert unused == set()


def test_the_limits_in_the_document_are_those_that_are_checked(document: dict[str, Any]) -> None:
    schemas = document["components"]["schemas"]

    (change,) = (
        one for one in schemas["LevelAsk"]["properties"]["change_db"]["anyOf"] if one["type"] == "number"
    )

    assert (change["minimum"], change["maximum"]) == (-12.0, 12.0)
    assert schemas["LevelAsk"]["properties"]["client_id"]["maxLength"] == 64
    assert "client_id" in schemas["LevelAsk"]["required"]
    assert "client_id" not in schemas["DecisionBody"]["required"]
