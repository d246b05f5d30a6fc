"""Photos as bytes: originals kept by their digest, parts on their way to them, pictures made from them."""
