"""How notices speak: languages, catalogues, placeholders, formats, translations. Values in, values out."""
