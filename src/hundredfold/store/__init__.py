"""The shop database: ledger rows, decisions, migrations."""
