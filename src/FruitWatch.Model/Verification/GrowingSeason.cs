using NodaTime;

namespace FruitWatch.Model.Verification;

/// <summary>Seasons by which forecasts are told apart: those of one season share their weather and are not independent.</summary>
public static class GrowingSeason
{
    /// <summary>The season of a day, as a year: the calendar's in the north; from July on the next in the south, where it would turn in mid-summer.</summary>
    /// <param name="date">The site's local day.</param>
    /// <param name="latitude">Of the site. [°], south negative</param>
    public static int Of(LocalDate date, double latitude) => (latitude < 0 ? date.PlusMonths(6) : date).Year;
}
