"""Rule-based troubleshooting of low-carbohydrate and high-protein doughs."""
