"""The invented valuation day, sent through the same door as a real one.

The house, the town, the people and their things do not exist. Pictures are drawn; codes and ids come from a
seed, so that the same day comes out each time.
"""
