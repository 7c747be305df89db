"""The proof sheet: pictures first, worst first, one sentence each; as a page and as a PDF."""
