using System.Globalization;
using FruitWatch.Model.Account;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Weather;

namespace FruitWatch.Service.Operating.Accounts;

/// <summary>Prints a bed's account as CSV, from a file of weather and a file that describes the bed and its log.</summary>
internal static class AccountVerb
{
    private const string Header =
        "date,et0_mm,water_mm,mulch_mm,relative_moisture,air_filled_porosity,bed_c,soil_c,pin_zone_c,ground_min_c,moisture_factor,"
        + "pin_factor,grow_factor,rh_percent,suitability,spawn_run,phase,progress,flushes,event,frost_nights";

    public static void Run(VerbOptions options, TextWriter output)
    {
        var weatherFile = options.Required("weather");
        var caseFile = options.Required("case");
        var weather = WeatherCsv.Read(weatherFile, InputFile.ReadAllText(weatherFile));
        var asked = AccountCase.Read(caseFile, InputFile.ReadAllText(caseFile), BedCatalogue.BuiltIn);
        var account = Account(weatherFile, weather, caseFile, asked);

        output.WriteLine(Header);
        foreach (var day in account.Days)
            output.WriteLine(Line(day));
    }

    /// <summary>The account of a case on a site's weather, holes filled from the same file.</summary>
    private static BedAccount Account(string weatherFile, IReadOnlyList<WeatherDay> weather, string caseFile, AccountCase asked)
    {
        var known = weather.Select(asked.AtTwoMetres).ToList();
        var first = known.Min(d => d.Date);
        var last = known.Max(d => d.Date);
        var until = asked.Until ?? last;
        if (asked.Bed.Inoculated < first || until > last)
        {
            throw new VerbException(
                $"{weatherFile}: the weather runs from {first:uuuu-MM-dd} to {last:uuuu-MM-dd}; {caseFile} needs "
                + $"{asked.Bed.Inoculated:uuuu-MM-dd} (inoculated) to {until:uuuu-MM-dd} ({(asked.Until is null ? "the weather's last day" : "until")}).");
        }

        var complete = GapFilling.Complete(known, first, until, new Climatology(known));
        if (complete.StoppedAt is { } stop)
        {
            throw new VerbException(
                $"{weatherFile}: the weather of {stop:uuuu-MM-dd} is unknown, and the file has no other days from which to tell what is usual then: "
                + "add the day, or more years.");
        }

        return BedAccount.Run(asked.Bed, asked.Log, SiteForcing.Of(complete.Days, asked.Ladder), BedCatalogue.BuiltIn, until);
    }

    private static string Line(in AccountDay day) => string.Create(
        CultureInfo.InvariantCulture,
        $"{day.Date:uuuu-MM-dd},{day.Et0},{day.Water},{day.MulchWater},{day.Moisture},{day.Air},{day.BedTemperature},"
        + $"{day.SoilTemperature},{day.PinZone},{day.GroundMin},{day.MoistureFactor},{day.PinFactor},{day.GrowFactor},"
        + $"{day.Humidity},{day.Suitability},{day.SpawnRun},{Words.Of(day.Phase)},{day.Progress},{day.Flushes},"
        + $"{Words.Of(day.Event)},{day.FrostNights}");
}
