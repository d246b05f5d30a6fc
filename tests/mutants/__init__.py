"""Small changes of meaning, one at a time: does a test notice each of them?"""
