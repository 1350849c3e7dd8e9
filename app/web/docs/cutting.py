"""Examples of cutting plans for the page that describes the JSON; a test holds the answers to the app."""

from typing import Any

STICKS: dict[str, Any] = {
    "unit": "mm",
    "kerf": "3",
    "keep": "300",
    "stock": [
        {"id": "new", "length": "3000", "cost": "24.50"},
        {"id": "rest 7", "length": "740", "copies": 1, "cost": "0"},
    ],
    "parts": [
        {"id": "wide", "length": "712", "copies": 2, "group": "piece 1"},
        {"id": "high", "length": "512", "copies": 2, "group": "piece 1"},
        {"id": "cleat", "length": "730"},
        {"id": "fence", "length": "3200"},
    ],
}

STICKS_ANSWER: dict[str, Any] = {
    "bins": [
        {
            "stock": "rest 7",
            "copy": 1,
            "cuts": [{"at": "730"}],
            "parts": [{"id": "cleat", "copy": 1, "at": "0", "length": "730"}],
            "offcuts": [],
        },
        {
            "stock": "new",
            "copy": 1,
            "cuts": [{"at": "712"}, {"at": "1427"}, {"at": "1942"}, {"at": "2457"}],
            "parts": [
                {"id": "wide", "copy": 1, "at": "0", "length": "712"},
                {"id": "wide", "copy": 2, "at": "715", "length": "712"},
                {"id": "high", "copy": 1, "at": "1430", "length": "512"},
                {"id": "high", "copy": 2, "at": "1945", "length": "512"},
            ],
            "offcuts": [{"at": "2460", "length": "540"}],
        },
    ],
    "unit": "mm",
    "opened": {"rest 7": 1, "new": 1},
    "cost": "24.5",
    "lower_bound": "24.5",
    "proven": True,
    "waste_share": "0.150",
    "kept_share": "0.144",
    "maker": "simple",
    "unplaced": [
        {
            "id": "fence",
            "copies": 1,
            "code": "too-long",
            "reason": "fence is 3200 mm long; the longest stick is 3000 mm.",
        }
    ],
}

SHEETS: dict[str, Any] = {
    "unit": "in",
    "keep": {"width": "8", "height": "10"},
    "stock": [{"id": "board", "width": "40", "height": "32", "cost": "9.80"}],
    "parts": [
        {"id": "mat A", "width": "16", "height": "20", "copies": 2},
        {"id": "mat B", "width": "63/8", "height": "10", "turn": False},
    ],
}

SHEETS_ANSWER: dict[str, Any] = {
    "bins": [
        {
            "stock": "board",
            "copy": 1,
            "cuts": [
                {"stage": 1, "way": "across", "at": "16", "start": "0", "end": "40"},
                {"stage": 2, "way": "down", "at": "20", "start": "0", "end": "16"},
                {"stage": 2, "way": "down", "at": "7.875", "start": "16", "end": "32"},
                {"stage": 3, "way": "across", "at": "26", "start": "0", "end": "7.875"},
            ],
            "parts": [
                {
                    "id": "mat A",
                    "copy": 1,
                    "x": "0",
                    "y": "0",
                    "width": "20",
                    "height": "16",
                    "turned": True,
                },
                {
                    "id": "mat A",
                    "copy": 2,
                    "x": "20",
                    "y": "0",
                    "width": "20",
                    "height": "16",
                    "turned": True,
                },
                {
                    "id": "mat B",
                    "copy": 1,
                    "x": "0",
                    "y": "16",
                    "width": "7.875",
                    "height": "10",
                    "turned": False,
                },
            ],
            "offcuts": [{"x": "7.875", "y": "16", "width": "32.125", "height": "16"}],
        }
    ],
    "unit": "in",
    "opened": {"board": 1},
    "cost": "9.8",
    "lower_bound": "9.8",
    "proven": True,
    "waste_share": "0.438",
    "kept_share": "0.402",
    "maker": "simple",
    "unplaced": [],
}
