"""Whether the program does what it says; the folders below mirror the packages."""
