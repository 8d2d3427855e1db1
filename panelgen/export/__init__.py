"""Files that others read: CAD models, meshes, lists. Exporters are independent of one another."""
