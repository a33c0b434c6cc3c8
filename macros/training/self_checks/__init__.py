"""Questions from the numbers of the house.

A template holds no number of a house; a house that lacks the amount is not asked, a wrong answer that is right in a house is
left out there. Critical steps and cautions without a template are asked from their own words; `coverage` refuses a build in
which one is not asked at all. A page shows its answers once one was given: it is practice and proves nothing, and says so.
The trainer's key is made when it is printed; it is no page, file or link of the site.
"""
