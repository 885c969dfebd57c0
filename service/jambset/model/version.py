"""Version of the engine; part of every advice_id, since another engine may answer otherwise."""

VERSION = "0.1.0"
