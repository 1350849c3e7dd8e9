"""What tests are made of: specs, materials and price books, pieces, orders, plans; in few words.

`values` and `materials` are the words that the others are written in. Each of the four price books has figures
of its own, by which tests reckon: `worked`, the piece worked by hand; `watercolour`; `kept`, in a store;
`printed`, on paper.
"""
