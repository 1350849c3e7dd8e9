"""An invented sample shop: its price book, its customers and a year of orders.

Everything in it is made up: the town, the people, the makers and their codes. Phone numbers come from the
range that is kept for fiction and e-mail addresses from the domain that is kept for examples.
Source: Ofcom's numbers for drama (01632 960000-960999, 07700 900000-900999); RFC 2606.
"""
