"""Programs for who carries on: they draw, fit and measure what the package and its pages hold."""
