"""Dormers: walls and a roof of their own that stand on the sheathing of a roof, around an opening in it.

The front wall and, over an airtight roof, the back wall are walls as any other, whose bottom plates lie on the slope.
The cheeks are triangles between the sheathing below and the dormer's roof. Its planes end on that sheathing, so the
main roof goes through below and each panel of the dormer is lowered onto it.
"""
