namespace FruitWatch.Model.Tests.Catalogue;

/// <summary>A grower's own species and material, both invented.</summary>
internal static class OwnCatalogue
{
    public const string Json = """
        {
          "version": 1,
          "species": {
            "alder-cap": {
              "name": { "en": "Alder cap", "es": "Sombrero de aliso" },
              "scientific_name": "Exemplum alni",
              "standing": { "en": "invented" },
              "spawn_run": {
                "t_base": { "value": 5, "source": "common practice, no source" },
                "t_opt": { "value": 24, "source": "common practice, no source" },
                "t_ceiling": { "value": 34, "source": "common practice, no source" },
                "q": { "value": 1.3, "source": "common practice, no source" },
                "days_at_optimum": { "value": 30, "source": "common practice, no source" },
                "spawn_rate": { "value": 1.5, "source": "common practice, no source" },
                "earliest_ready_days": { "value": 40, "source": "common practice, no source" },
                "t_harm": { "value": 33, "source": "common practice, no source" }
              },
              "pinning": {
                "band": { "value": [6, 10, 20, 26], "source": "common practice, no source" },
                "days": { "value": 6, "source": "common practice, no source" }
              },
              "growing": {
                "band": { "value": [4, 10, 25, 30], "source": "common practice, no source" },
                "days": { "value": 8, "source": "common practice, no source" },
                "killing_frost": { "value": -2, "source": "common practice, no source" }
              },
              "picking_days": { "value": 5, "source": "common practice, no source" },
              "resting_days": { "value": 14, "source": "common practice, no source" },
              "triggers": {
                "soak": {
                  "mm": { "value": 12, "source": "common practice, no source" },
                  "days": { "value": 4, "source": "common practice, no source" }
                },
                "frost": { "value": null, "source": "common practice, no source" }
              },
              "materials": { "value": ["alder-chips", "hardwood-chips"], "source": "common practice, no source" },
              "lookalikes": [
                {
                  "name": { "en": "False alder cap", "es": "Falso sombrero de aliso" },
                  "danger": { "en": "Deadly.", "es": "Mortal." },
                  "tell": { "en": "Rusty print." },
                  "source": "invented"
                }
              ],
              "cautions": [{ "en": "Cook it.", "es": "Cocínelo.", "source": "invented" }]
            }
          },
          "materials": {
            "alder-chips": {
              "name": { "en": "Alder chips" },
              "dry_bulk_density": { "value": 160, "source": "invented" },
              "porosity": { "value": 0.87, "source": "invented" },
              "theta_cc": { "value": 0.3, "source": "invented" },
              "theta_water": { "value": 0.19, "source": "invented" },
              "theta_low": { "value": 0.1, "source": "invented" },
              "settling": { "value": 0.2, "source": "invented" },
              "decay": { "value": 0.3, "source": "invented" },
              "drain_days": { "value": 0.35, "source": "invented" },
              "flush_life": { "value": 4, "source": "invented" },
              "mulch_store_mm_per_cm": { "value": 1.4, "source": "invented" }
            }
          }
        }
        """;
}
