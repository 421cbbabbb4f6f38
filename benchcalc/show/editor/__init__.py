"""The sheet editor of the first page: the whole sheet by form, drawn as it is typed."""
