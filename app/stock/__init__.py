"""What is on the rack and what open work asks of it: items, movements, needs, plans, buying.

Pure, above orders: it turns agreed pieces into parts to cut, asks `cutting` for plans, and keeps account of
what is bought, cut, kept, spoiled and counted. It knows no tables and no pages.
"""
