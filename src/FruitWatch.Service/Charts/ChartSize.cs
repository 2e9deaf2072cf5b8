namespace FruitWatch.Service.Charts;

/// <summary>
/// How large a chart is drawn. Every chart is drawn twice and the page shows the one that fits: letters in a chart scaled down to a
/// phone could not be read.
/// </summary>
/// <param name="Name">Name in classes and keys.</param>
/// <param name="Width">Width. [px]</param>
/// <param name="Height">Height of a panel. [px]</param>
/// <param name="DayLabels">How many labels of days there is room for.</param>
internal sealed record ChartSize(string Name, double Width, double Height, int DayLabels)
{
    public static readonly ChartSize Wide = new("wide", 600, 210, 7);
    public static readonly ChartSize Narrow = new("narrow", 320, 190, 4);

    public static readonly IReadOnlyList<ChartSize> All = [Wide, Narrow];

    /// <summary>Room for the labels of the values. [px]</summary>
    public const double Left = 46;

    /// <summary>Room at the right: for the last label of the days, or for the names of lines at their ends. [px]</summary>
    public double Right { get; init; } = 10;
}
