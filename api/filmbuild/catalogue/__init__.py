"""The product-specification database: revisions of products, packs, systems, rates and rules."""
