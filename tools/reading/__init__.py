"""The labelled set behind the reading predictor: designs, OCR truth, fitting, accuracy report."""
