"""What is bought: packs, cut plans, suppliers, and how old their prices are."""
