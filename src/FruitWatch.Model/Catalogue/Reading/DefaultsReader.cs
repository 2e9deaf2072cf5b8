using FruitWatch.Model.Beds;

namespace FruitWatch.Model.Catalogue.Reading;

/// <summary>Reads what holds for every bed: covers, the error of forecasts, the spreads that learning starts from.</summary>
internal static class DefaultsReader
{
    private static readonly (Cover Cover, string Name)[] s_covers =
        [(Cover.None, "none"), (Cover.Sheet, "sheet"), (Cover.PiercedSheet, "pierced-sheet")];

    public static Dictionary<Cover, CoverEffect> ReadCovers(SourcedFields fields)
    {
        var covers = s_covers.ToDictionary(cover => cover.Cover, cover => ReadCover(fields.In(cover.Name, "what the cover lets through")));
        fields.Close();
        return covers;
    }

    public static ForecastErrorDefaults ReadForecastError(SourcedFields fields)
    {
        var spread = Limits.AboveZeroTo(20);
        var error = new ForecastErrorDefaults(
            fields.Number("s0_tmax", spread),
            fields.Number("s0_tmin", spread),
            fields.Number("sc_tmax", spread),
            fields.Number("sc_tmin", spread),
            fields.Number("lead_scale_days", Limits.AboveZeroTo(60)),
            fields.Whole("t_df", new Limits(3, 100))); // with 2 or fewer a Student t has no variance to scale
        fields.Close();
        return error;
    }

    public static LearningDefaults ReadLearning(SourcedFields fields)
    {
        var learning = new LearningDefaults(
            fields.Number("sigma_evaporation", Limits.AboveZeroTo(2)),
            fields.Number("sigma_growth", Limits.AboveZeroTo(2)),
            fields.Whole("pairs", new Limits(1, 65536)),
            fields.Number("sd_mc", Limits.AboveZeroTo(1)),
            fields.Number("sd_pins_days", Limits.AboveZeroTo(60)),
            fields.Number("sd_mycelium", Limits.AboveZeroTo(1)));
        fields.Close();
        return learning;
    }

    private static CoverEffect ReadCover(SourcedFields fields)
    {
        var effect = new CoverEffect(fields.Number("evaporation", Limits.Share), fields.Number("rain", Limits.Share));
        fields.Close();
        return effect;
    }
}
