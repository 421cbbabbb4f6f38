"""What heat the lead-out stands: the solder of its joint, and the insulation of the cable."""

from ...basics.tables import rows
from ...materials.bulk import solid_key

SOLDERED, USUAL_SOLDER = "soldered", "solder-sn60pb40"  # the second where the sheet names none


def lead_limit(material):
    """Long-service limit of a solder or an insulation, from the tables.

    material: as a sheet spells it.
    Returns the row (value in degC, source_id, basis), or None.
    """
    topic, key = solid_key(material)
    table, quantity = ("metal_values", "service_limit_c") if topic == "metals" else ("insulation", "continuous_limit_c")
    return next((r for r in rows(table) if r["key"] == key and r["quantity"] == quantity), None)
