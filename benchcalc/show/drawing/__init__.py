"""The live picture, labels, the house style."""
