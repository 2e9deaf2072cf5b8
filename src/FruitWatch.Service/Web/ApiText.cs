using NodaTime;
using NodaTime.Text;

namespace FruitWatch.Service.Web;

/// <summary>Days in the addresses and messages of the API.</summary>
internal static class ApiText
{
    public static string Day(LocalDate day) => LocalDatePattern.Iso.Format(day);

    /// <summary>A day given as a query value; null and an error where it is none.</summary>
    public static LocalDate? Day(string name, string? text, Dictionary<string, string[]> errors)
    {
        if (text is null)
            return null;
        if (LocalDatePattern.Iso.Parse(text).TryGetValue(default, out var day))
            return day;
        errors[name] = ["Expected a day such as 2026-05-31."];
        return null;
    }
}
