"""The house's own data as tables that are typed into: glassware, methods, ice, vessels, measures and weighings."""
