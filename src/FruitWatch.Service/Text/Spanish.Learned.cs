using FruitWatch.Model.Learning;
using FruitWatch.Service.Beds;

namespace FruitWatch.Service.Text;

internal sealed partial class Spanish
{
    public override string LearnedTitle => "Lo que enseñó el registro";

    public override string LearnedSaid(LearnedBed learned) => learned.IsPrior
        ? "Nada todavía. Las pruebas del puño, las miradas al micelio, los días de primordios y las miradas sin ellos muestran si esta cama se seca y crece más deprisa o más despacio de lo normal."
        : $"Con {Seen(learned.From)}: frente a una cama normal, esta se seca {Range(learned.Evaporation)} y crece {Range(learned.Growth)}. Los márgenes valen para 9 de cada 10 camas así.";

    public override string LearnedDisagrees =>
        "El registro no encaja con ninguna cama que admita el modelo. Revisar la profundidad, la sombra y la cubierta de la cama, y las últimas anotaciones.";

    private string Range(LearnedMultiplier of) => $"unas {Number(of.P50, 1)} veces lo normal (de {Number(of.P5, 1)} a {Number(of.P95, 1)})";

    private string Seen(LearnedFrom from)
    {
        string[] seen =
        [
            .. Counted(from.SqueezeTests, "prueba del puño", "pruebas del puño"),
            .. Counted(from.Moistures, "humedad medida", "humedades medidas"),
            .. Counted(from.MyceliumLooks, "mirada al micelio", "miradas al micelio"),
            .. Counted(from.PinsDates, "día de primordios", "días de primordios"),
            .. Counted(from.LooksWithoutPins, "mirada sin primordios", "miradas sin primordios"),
        ];
        return seen.Length == 1 ? seen[0] : $"{string.Join(", ", seen[..^1])} y {seen[^1]}";

        string[] Counted(int count, string one, string many) => count == 0 ? [] : [$"{Number(count)} {(count == 1 ? one : many)}"];
    }
}
